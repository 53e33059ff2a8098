"""What a check code says to whoever holds a drilling sheet: work to it, or don't. Nothing about house or household."""

from collections.abc import Sequence
from typing import Any

from portal.drawings.sheets.kept_sheet import can_be_worked_to
from portal.layouts.checks_today import found_today
from portal.layouts.kept_checks import broken_rules, layout_in
from portal.pages.decision.option_drawing import NOT_SHOWN
from portal.pages.environment import render
from portal.pages.plain_pages import render_message
from portal.record.log.heads import SignedHead, key_name
from portal.store.facts import FirmFact
from portal.store.reading.revisions.check_codes import CheckedRevision
from portal.store.refusals import NotAsAsked
from portal.words.dates import when_words
from portal.words.plurals import counted

_STOP = "Do not drill or cut by this sheet. Call the office first."


def render_check(firm: FirmFact, found: Sequence[CheckedRevision], now: int, option: str = "") -> str:
    """Render what a code says. `found`: the revisions with it; there may be more than one, and then all must be
    approved. `option`: the key of what the sheet is for, if that is known: another may have been approved of the same
    revision. `now`: whole seconds."""
    if not found:
        return _ask_again(firm, "No such check code", [
            "We never asked anything with this check code. It holds the digits 0 to 9 and the letters a to f only.",
            "Was one of them misread?",
            _STOP,
        ])
    wrong = next((one for one in found if not one.is_approved), None)
    other = next((one for one in found if option and one.chosen != option), None)
    if wrong is None and other is not None:
        return render_message(firm, "This sheet is for another option", [_STOP, _approved(other), _as_of(other, now)])
    if wrong is None and (unlike := next(filter(None, map(_unlike, found)), "")):
        return render_message(firm, "What is kept is not what was asked", [_STOP, unlike, _as_of(found[0], now)])
    if wrong is None:
        fails = [words for one in found if (words := _fails(one))]
        title = "Approved, but call the office first" if fails else "This is the approved revision"
        return render_message(firm, title, [*fails, *map(_approved, found), _as_of(found[0], now)])
    title = "This revision was replaced" if wrong.revision != wrong.current else "This is not approved"
    return render_message(firm, title, [_STOP, _not_approved(wrong), _as_of(wrong, now)])


def render_short_code(firm: FirmFact, shortest: int) -> str:
    """Render that a code with fewer than `shortest` digits says nothing, and ask again."""
    return _ask_again(firm, "The check code is too short", [
        f"Type all {shortest} letters and digits of the check code on the sheet, with or without the dashes.", _STOP,
    ])


def render_ambiguous(firm: FirmFact) -> str:
    """Render that more than one revision has a code that begins like this: nobody can say which sheet is meant."""
    return _ask_again(firm, "More than one sheet has this short code", [
        _STOP, "The square code on the sheet holds the whole code. Scan it, or let the office look.",
    ])


def render_held(firm: FirmFact, signed: SignedHead, *, ours: bool, begins: bool) -> str:
    """Render what the words of a letter say. `ours`: we signed them; `begins`: the record begins with what it was."""
    entries, key = counted(signed.head.size, "entry", "entries"), key_name(signed.public_key)
    if not signed.holds:
        return _ask_again(firm, "These words were changed", [
            "The signature in them does not hold. Were they copied whole, from “record-head” to the end?",
        ])
    if not ours:
        return _ask_again(firm, "These words are not signed by our key", [
            f"They are signed with the key {key}, which never signed here. Is that the name in your papers?",
            "If it is, keep the mail and call the office. If it is not, the words are from someone else.",
        ])
    if not begins:
        return _ask_again(firm, "The record is not what it was", [
            f"When that mail was written, the record had {entries}. It no longer begins with them.",
            "Keep the mail, and call the office.",
        ])
    return _ask_again(firm, "The record still holds what it held", [
        f"When that mail was written, the record had {entries}. It still begins with them, unchanged.",
        f"The words are signed with the key {key}. Compare that with the key in your papers.",
    ])


def render_asking(firm: FirmFact) -> str:
    """Render `/check/`, where the code is typed that stands on the sheet."""
    return _ask_again(firm, "Is this sheet still approved?", [
        "Type the check code that stands on the drilling sheet. We tell you if you may work to it.",
        "You can also paste the words of a mail that begin with “record-head”. We tell you if the record still holds.",
    ])


def _ask_again(firm: FirmFact, title: str, sentences: Sequence[str]) -> str:
    return render("check.html", firm, title=title, sentences=sentences)


def _approved(one: CheckedRevision) -> str:
    when = f" on {when_words(one.approved_at, one.timezone)}" if one.approved_at is not None else ""
    return (
        f"Decision {one.decision}, revision {one.revision}, was approved{when}: “{one.approved_title}”. "
        "It is the newest revision. Work to no sheet of another option."
    )


def _unlike(one: CheckedRevision) -> str:
    """That nobody may work to what is kept: it is not what was asked, or can't be drawn. Else empty."""
    if not one.as_asked:
        return NotAsAsked.sentence
    return "" if can_be_worked_to(_chosen(one), one.kind) else NOT_SHOWN


def _chosen(one: CheckedRevision) -> dict[str, Any]:
    return next((option for option in one.options if option["key"] == one.chosen), {})


def _fails(one: CheckedRevision) -> str:
    """Which rules the approved option breaks, also by the checks of today; whose it is and why it is offered is for the
    household to know."""
    approved = _chosen(one)
    broken = broken_rules(layout_in(approved))
    fails = f"FAILS: {'; '.join(broken)}. Call the office before you drill or cut." if broken else ""
    return " ".join(filter(None, (fails, found_today(one.kind, one.detail, approved))))


def _not_approved(one: CheckedRevision) -> str:
    name = f"Decision {one.decision}, revision {one.revision}"
    if one.state == "withdrawn":
        return f"{name}, is of a question that was withdrawn: it was never approved."
    if one.revision == one.current:
        return f"{name}, is the newest revision, but it is not approved."
    when = f" on {when_words(one.replaced_at, one.timezone)}" if one.replaced_at is not None else ""
    return f"{name}, was replaced{when}. The newest is revision {one.current}."


def _as_of(one: CheckedRevision, now: int) -> str:
    return f"As of {when_words(now, one.timezone)}. Open this page again before you drill."
