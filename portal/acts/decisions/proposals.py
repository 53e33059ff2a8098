"""A designer proposes where the pulls go. The manager asks it of the household, whose approval alone settles it."""

from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.decisions.closing import refuse_closed
from portal.acts.decisions.failing_layouts import refuse_failing
from portal.acts.decisions.layout_options import layouts_of
from portal.acts.entries import keep
from portal.acts.refusals import NotFound, NothingToPlace, Refused, Settled
from portal.acts.written import reason_given, written
from portal.layouts import pulls
from portal.layouts.kept_checks import dimensions_in
from portal.layouts.naming import named
from portal.layouts.pulls.form import PLACED as PULLS_PLACED
from portal.store.refusals import FieldRefused
from portal.store.rows import decision_rows, notice_rows, proposal_rows
from portal.store.rows.editable import in_project
from portal.store.rows.proposal_rows import ProposalFact
from portal.store.tables import Decision


class ProposalSettled(Refused):
    status = 409
    sentence = "{name} was told already what became of this proposal. It stays so."


PLACED = {pulls.KIND: PULLS_PLACED}
"""By kind of decision: the dimensions that say where things go, and not how large they are."""


@act("propose_layout")
def propose_layout(
    actor: Actor, project_id: int, decision_id: int, *, placement: dict[str, Any], layout: str, note: str, now: int
) -> ProposalFact:
    """Propose a layout by its key or its title, perhaps with another placement (`drawers`, `doors`, `two_over`) than
    was asked.

    Raises NothingToPlace for a decision without drawings of pulls, WorkHasBegun or QuestionWithdrawn for one that is
    closed, Settled for an approved one, FieldRefused, also for a layout that breaks a rule: what a designer proposes
    can be done.
    """
    decision = in_project(Decision, project_id, decision_id)
    refuse_closed(decision.id, decision.number)
    if decision.state == "approved":
        raise Settled(number=decision.number)
    dimensions = placed(decision, placement)
    found = layouts_of(decision.kind, dimensions)
    meant = named(found, layout)
    if meant is None:
        raise FieldRefused("layout", f"Choose one of: {'; '.join(one.title for one in found)}.")
    refuse_failing(meant, "layout")
    note = written("note", note)
    values = {"dimensions": dimensions, "layout": meant.title, "layout_key": meant.key, "note": note}
    body = {"decision": decision.number, "revision": decision.revision}  # the household is not shown a draft
    proposal = proposal_rows.add_proposal(decision.id, actor.id, values, now)
    keep(actor, project_id, "placement_proposed", body, now)
    return proposal


TAKEN, CHANGED, REFUSED = "taken", "changed", "refused"


@act("settle_proposal")
def settle_proposal(
    actor: Actor, project_id: int, decision_id: int, proposal_id: int, outcome: str, because: str = "", *, now: int
) -> None:
    """What became of a proposal, once; whoever made it is told. `because`: why it is not taken up. Raises NotFound,
    FieldRefused, ProposalSettled."""
    decision = in_project(Decision, project_id, decision_id)
    proposal = proposal_rows.proposal_of(decision.id, str(proposal_id))
    if proposal is None:
        raise NotFound(what="proposal")
    if outcome == REFUSED:
        because = reason_given("because", because, "Say why; whoever proposed it reads this.")
    if not proposal_rows.settle(proposal.id, outcome, because, now):
        if (proposal.outcome, proposal.because) == (outcome, because):
            return
        raise ProposalSettled(name=proposal.name)
    body = {"decision": decision.number, "proposal": proposal.id, "outcome": outcome, "name": proposal.name}
    keep(actor, project_id, "proposal_settled", body, now)
    about = {"decision": decision.id, "number": decision.number, "layout": proposal.layout}
    notice_rows.add(
        project_id, proposal.person_id, "proposal_settled", about | {"outcome": outcome, "because": because}, now)


def settle_asked(actor: Actor, project_id: int, decision_id: int, proposal_id: int, *, now: int) -> None:
    """After it was asked again from a proposal: taken as it is, or changed. What was settled before stays so."""
    decision = in_project(Decision, project_id, decision_id)
    proposal = proposal_rows.proposal_of(decision.id, str(proposal_id))
    if proposal is None or proposal.outcome:
        return
    revision = decision_rows.revision(decision.id, decision.revision)
    keys = [layout_key_of(one) for one in revision.options] if isinstance(revision.options, list) else []
    same = dimensions_in(revision.detail) == proposal.dimensions and key_of(proposal, decision.kind) in keys
    settle_proposal(actor, project_id, decision_id, proposal.id, TAKEN if same else CHANGED, now=now)


def layout_key_of(option: Any) -> str:
    """Of an option as it is kept; empty where it is no drawing."""
    detail = option.get("detail") if isinstance(option, dict) else None
    layout = detail.get("layout") if isinstance(detail, dict) else None
    return str(layout.get("key", "")) if isinstance(layout, dict) else ""


def key_of(proposal: ProposalFact, kind: str) -> str:
    """Give the key of the layout that is proposed for a decision of this kind; empty when its dimensions have it no
    more. What was proposed before layouts had keys is found by its title."""
    if proposal.layout_key:
        return proposal.layout_key
    try:
        meant = named(layouts_of(kind, proposal.dimensions), proposal.layout)
    except FieldRefused:
        return ""
    return meant.key if meant else ""


def placed(decision: Decision, placement: dict[str, Any]) -> dict[str, Any]:
    """The decision's dimensions with this placement; what is null in it is taken away."""
    dimensions = dimensions_in(decision_rows.revision(decision.id, decision.revision).detail)
    if decision.kind not in PLACED or dimensions is None:
        raise NothingToPlace(number=decision.number)
    unknown = set(placement) - PLACED[decision.kind]
    if unknown:
        field = sorted(unknown)[0]
        raise FieldRefused(f"placement.{field}", "This is measured, not placed. Call the office if it is wrong.")
    merged = dimensions | placement
    return {name: value for name, value in merged.items() if value is not None}
