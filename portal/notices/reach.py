"""Whether someone can be reached by mail, and if not, why the office must tell them otherwise."""

from portal.notices.notice_kinds import KINDS
from portal.store.rows.notice_rows import GIVEN_UP, Notice


def hindrance(notice: Notice, can_send: bool) -> str:
    """Why this notice does not go out by mail as things stand; empty when it does. `can_send`: mail is set up."""
    if notice.on_paper and KINDS[notice.kind].legal:
        return "has gone back to paper: print it and hand it over"
    if not notice.email:
        return "has no e-mail address"
    if notice.salt is None:
        return "has no link that opens"
    return "" if can_send else "gets no mail, since none is sent from here"


def needs_a_call(notice: Notice, can_send: bool) -> str:
    """Why the office must tell this person; empty when mail does, or when it need not be told."""
    why = hindrance(notice, can_send)
    must = KINDS[notice.kind].by_phone or notice.on_paper
    if notice.state == GIVEN_UP and not why:
        why = "did not get our mail, though we tried for a week"
    return why if must else ""
