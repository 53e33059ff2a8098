"""A designer proposes where the pulls go. The manager asks it of the household, whose approval alone settles it."""

from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.decisions.closing import refuse_closed
from portal.acts.decisions.failing_layouts import refuse_failing
from portal.acts.decisions.layout_options import layouts_of
from portal.acts.entries import keep
from portal.acts.refusals import NothingToPlace, Settled
from portal.acts.written import written
from portal.layouts import pulls
from portal.layouts.kept_checks import dimensions_in
from portal.layouts.naming import named
from portal.layouts.pulls.form import PLACED as PULLS_PLACED
from portal.store.refusals import FieldRefused
from portal.store.rows import decision_rows, proposal_rows
from portal.store.rows.editable import in_project
from portal.store.rows.proposal_rows import ProposalFact
from portal.store.tables import Decision

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
    body = {"decision": decision.number, "revision": decision.revision, "layout": meant.title, "note": note}
    keep(actor, project_id, "placement_proposed", body, now)
    return proposal_rows.add_proposal(decision.id, actor.id, values, now)


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
