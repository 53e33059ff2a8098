"""The drilling sheet of a decision: what is printed of an option, from what is kept with its revision.

A sheet can be had of any option at any time; unless it is the approved one of the current revision, it is overprinted.
"""

from dataclasses import dataclass
from typing import Any

from portal.content import Piece, piece
from portal.drawings.scene import Scene
from portal.drawings.scene_json import scene_from_json
from portal.drawings.sheets.sheet import Sheet
from portal.layouts.kinds import kind_named
from portal.pages.words import listed, short_code
from portal.prose import plain_of
from portal.store.facts import DecisionFact, Snapshot
from portal.when import clock_words, local, long_day_words

_FIRST = "The maker's sheet for each part and the local code come first. Where this sheet differs, stop and call."


@dataclass(frozen=True)
class Printable:
    """`scene` is what the page shows; `machine` is what the fabricator's file holds."""

    sheet: Sheet
    scene: Scene
    machine: Scene


def has_sheet(decision: DecisionFact) -> bool:
    return _drawn(decision) != []


def option_to_print(decision: DecisionFact) -> dict[str, Any] | None:
    """The approved option, else the recommended one, else the first that has a drawing. None: there is no drawing."""
    approved = {approval.option for approval in decision.approvals}
    best = sorted(_drawn(decision), key=lambda one: (one["key"] not in approved, not one.get("recommended")))
    return best[0] if best else None


def printable(
    snapshot: Snapshot, decision: DecisionFact, option: dict[str, Any], check_page: str,
    superseded_by: int | None = None,
) -> Printable:
    """`check_page`: the address of the page that says whether this is still the approved revision. `superseded_by`: the
    current revision, where `decision` is an earlier one."""
    detail, (by, at) = option["detail"], _approval(snapshot, decision, option)
    table = detail["sheet"]
    sheet = Sheet(
        house=f"{snapshot.project.name}, {snapshot.project.address}", room=snapshot.room_name(decision.room_id),
        decision=decision.number, revision=decision.revision, question=decision.question, option=_words(option),
        check_code=short_code(decision.check_code), page_url=check_page, title=table["title"],
        columns=tuple(table["columns"]), rows=tuple(map(tuple, table["rows"])), measured_from=table["measured_from"],
        checks=tuple(table["checks"]), approved_by=by, approved_at=at, superseded_by=superseded_by,
        cautions=(_FIRST, *_cautions(decision.kind)), call=_call(snapshot),
    )  # fmt: skip
    machine = detail.get("for_machine") or detail["drawing"]
    return Printable(sheet, scene_from_json(detail["drawing"]), scene_from_json(machine))


def _drawn(decision: DecisionFact) -> list[dict[str, Any]]:
    return [one for one in decision.options if "sheet" in (one.get("detail") or {})]


def _words(option: dict[str, Any]) -> str:
    """The title that was approved, and beside it the layout's own where it says more."""
    own = option["detail"]["layout"]["title"]
    return option["title"] if own == option["title"] else f"{option['title']} ({own})"


def _approval(snapshot: Snapshot, decision: DecisionFact, option: dict[str, Any]) -> tuple[str, str]:
    """By whom and when; nothing unless all who must approve it have."""
    given = [approval for approval in decision.approvals if approval.option == option["key"]]
    if not given or decision.state != "approved":
        return "", ""
    moment = local(given[-1].at, snapshot.project.timezone)
    names = listed([approval.name for approval in given])
    return names, f"{long_day_words(moment.date())}, {clock_words(moment)}"


def _cautions(kind: str) -> list[str]:
    found = (piece("cautions", name) for name in kind_named(kind).CAUTIONS)
    return [_plain(one) for one in found if one is not None]


def _plain(caution: Piece) -> str:
    body = caution.html.partition("<h2>")[0]
    return f"{caution.title}: {plain_of(caution.summary)} {plain_of(body)}"


def _call(snapshot: Snapshot) -> str:
    phone = snapshot.project.phone or snapshot.firm.phone
    return f"{snapshot.firm.name}, {phone}" if phone else ""
