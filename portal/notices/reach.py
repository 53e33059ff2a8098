"""Whether someone can be reached by mail, and if not, why the office must tell them otherwise."""

from collections.abc import Iterable

from portal.notices.notice_kinds import KINDS
from portal.store.rows.letters.staff_notice_rows import Lacking
from portal.store.rows.notice_rows import GIVEN_UP, RETURNED, SENT, TOLD, UNWRITTEN, WAITING, Notice
from portal.words.dates import when_words
from portal.words.lists import listed
from portal.words.plurals import plural

RECEIPT = "receipt"

NONE_IS_SENT = "gets no mail, since none is sent from here"
"""The cause is of no one person."""

_FAILURES = {
    GIVEN_UP: "did not get our mail, though we tried for a week",
    UNWRITTEN: "did not get our mail: it would have been read otherwise than it is meant. Also tell whoever looks "
    "after this server",
}


def hindrance(notice: Notice, can_send: bool) -> str:
    """Why this notice does not go out by mail as things stand; empty when it does. `can_send`: mail is set up."""
    if notice.on_paper and KINDS[notice.kind].legal:
        return "has gone back to paper: print it and hand it over"
    if not notice.email:
        return "has no e-mail address"
    if notice.stopped:
        return "has stopped our mail"
    if notice.comes_back:
        return f"gets no mail at {notice.email}, it comes back: {notice.comes_back.rstrip('.')}"
    if notice.salt is None:
        return "has no link that opens"
    return "" if can_send else NONE_IS_SENT


def needs_a_call(notice: Notice, can_send: bool) -> str:
    """Why the office must tell this person; empty when mail does, or when it need not be told."""
    why = hindrance(notice, can_send)
    why = _came_back(notice) or why or _FAILURES.get(notice.state, "")
    stopped = notice.stopped or notice.comes_back or notice.state in (UNWRITTEN, RETURNED)
    return why if KINDS[notice.kind].by_phone or notice.on_paper or stopped else ""


def copies_words(notices: Iterable[Notice]) -> list[str]:
    """Say who got a copy of a receipt, or will, and who else is told: `A copy went to maren@example.org.`, `Jonas is
    told.` Of a copy that does not arrive, that."""
    known = list(notices)
    copies = [_copy_words(notice) for notice in known if notice.kind == RECEIPT]
    told = [one.name for one in known if one.kind != RECEIPT and (one.state in (SENT, TOLD) or _can_go(one))]
    return [*copies, *([f"{listed(told)} {plural(len(told), 'is', 'are')} told."] if told else [])]


def _copy_words(notice: Notice) -> str:
    if notice.state == SENT:
        return f"A copy went to {notice.email}."
    if _can_go(notice):
        return f"A copy goes to {notice.email}."
    return f"{notice.name} gets no mail from us, so please keep it."


def _can_go(notice: Notice) -> bool:
    return notice.state == WAITING and not hindrance(notice, True)


def _came_back(notice: Notice | Lacking) -> str:
    if notice.state != RETURNED:
        return ""
    return f"did not get our mail, it came back: {notice.trouble.rstrip('.') or 'the mail server did not say why'}"


def staff_lacks(letter: Lacking) -> str:
    """Why somebody of our own people has not got a letter. What it told stands in the list of the day."""
    why = _came_back(letter) or _FAILURES.get(letter.state) or f"waits for our mail: {letter.trouble.rstrip('.')}"
    when = when_words(letter.made_at, letter.zone)
    return f"{letter.name} ({letter.email}) {why}. It tells of what waits for us there since {when}."
