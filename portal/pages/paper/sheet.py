"""The drilling sheet of a decision: what is printed of an option, from what is kept with its revision.

A sheet can be had of any option at any time; unless it is the approved one of the current revision, it is overprinted.
"""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from portal.drawings.scenes.scene import Scene
from portal.drawings.scenes.scene_json import scene_from_json
from portal.drawings.sheets.kept_sheet import can_be_worked_to, machine_scene, words_of_kept
from portal.drawings.sheets.sheet import Sheet
from portal.layouts.checks_today import found_today
from portal.layouts.kept_checks import broken_on_paper, dimensions_in, is_drawn, layout_in, not_checked
from portal.pages.paper.cautions import cautions_of
from portal.pages.signers import signed_by
from portal.store.facts import DecisionFact, Snapshot
from portal.words.codes import short_code
from portal.words.dates import clock_words, local, long_day_words
from portal.words.drawn.sheet_words import despite
from portal.words.lists import listed

_FIRST = "The maker's sheet for each part and the local code come first. Where this sheet differs, stop and call."


@dataclass(frozen=True)
class Printable:
    """`scene` is what the page shows; `machine` is what the fabricator's file holds. `named`: house, decision, option
    and revision as they begin a file's name."""

    sheet: Sheet
    scene: Scene
    machine: Scene
    named: str

    def file_name(self, ending: str, *more: str) -> str:
        """Says in a folder of downloads whose it is, and that it must not be used. `more`: such as the paper."""
        stop = []
        if self.sheet.superseded_by or not self.sheet.approved_by:
            stop.append("superseded" if self.sheet.superseded_by else "not-approved")
        fails = ["fails"] if self.sheet.fails else []
        return f"{'-'.join([self.named, *more, *stop, *fails])}.{ending}"


def has_sheet(decision: DecisionFact) -> bool:
    """Whether there is one to work from: drawn, and kept as it was asked."""
    best = option_to_print(decision) if decision.as_asked else None
    return best is not None and can_be_worked_to(best, decision.kind)


def option_to_print(decision: DecisionFact) -> dict[str, Any] | None:
    """The approved option, else the recommended one, else the first that has a drawing. None: there is no drawing."""
    approved = {approval.option for approval in decision.approvals}
    best = sorted(_drawn(decision), key=lambda one: (one["key"] not in approved, not one.get("recommended")))
    return best[0] if best else None


def printable(
    snapshot: Snapshot, decision: DecisionFact, option: dict[str, Any], check_pages: str,
    superseded_by: int | None = None,
) -> Printable:
    """`check_pages`: the address below which each check code has the page that says whether it is still approved. The
    square code leads there with the sheet's option, since all options of a revision have the same check code.
    `superseded_by`: the current revision, where `decision` is an earlier one."""
    detail, (by, at) = option["detail"], _approval(snapshot, decision, option)
    query = urlencode({"option": option["key"]})
    sheet = Sheet(
        house=f"{snapshot.project.name}, {snapshot.project.address}", room=snapshot.room_name(decision.room_id),
        type_at=check_pages,
        decision=decision.number, revision=decision.revision, question=decision.question, option=_words(option),
        check_code=short_code(decision.check_code), page_url=f"{check_pages}{decision.check_code}/?{query}",
        approved_by=by, approved_at=at, superseded_by=superseded_by, **words_of_kept(detail),
        **_standing(option), today="" if superseded_by else found_today(decision.kind, decision.detail, option),
        cautions=(_FIRST, *cautions_of(decision.kind, dimensions_in(decision.detail))), call=_call(snapshot),
    )  # fmt: skip
    named = f"{_slug(snapshot.project.name)}-decision-{decision.number}-option-{_slug(option['key'])}"
    return Printable(sheet, scene_from_json(detail["drawing"]), machine_scene(decision.kind, detail),
                     f"{named}-revision-{decision.revision}")


def _standing(option: Mapping[str, Any]) -> dict[str, Any]:
    """What was not checked, which rules the kept layout breaks, and who offers it all the same, and why."""
    layout, given = layout_in(option), option.get("despite")
    given = given if isinstance(given, Mapping) else {}
    said = despite(str(given.get("by", "")), str(given.get("reason", ""))) if given else ""
    return {"not_checked": tuple(not_checked(layout)), "fails": tuple(broken_on_paper(layout)), "despite": said}


def _slug(text: str) -> str:
    """Lower-case letters and digits of ASCII with hyphens between, as every system takes them in a file's name."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].rstrip("-") or "house"


def _drawn(decision: DecisionFact) -> list[dict[str, Any]]:
    return [one for one in decision.options if is_drawn(one)]


def _words(option: dict[str, Any]) -> str:
    """The title that was approved, and beside it the layout's own: that one nobody wrote."""
    own, said = str(option["detail"]["layout"]["title"]), str(option["title"])
    return said if said == own else f"{said} ({own})"


def _approval(snapshot: Snapshot, decision: DecisionFact, option: dict[str, Any]) -> tuple[str, str]:
    """By whom and when; nothing unless all who must approve it have."""
    given = [approval for approval in decision.approvals if approval.option == option["key"]]
    if not given or decision.state != "approved":
        return "", ""
    moment = local(given[-1].at, snapshot.project.timezone)
    names = listed([signed_by(approval, snapshot.people).rstrip(",") for approval in given])
    return names, f"{long_day_words(moment.date())}, {clock_words(moment)}"


def _call(snapshot: Snapshot) -> str:
    phone = snapshot.project.phone or snapshot.firm.phone
    name = " ".join(filter(None, (snapshot.firm.mark, snapshot.firm.name)))
    return f"{name}, {phone}" if phone else ""
