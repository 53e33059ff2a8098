"""Whom our mail reaches, in words: who got a copy of a receipt."""

from portal.notices.reach import copies_words
from portal.store.rows import notice_rows
from portal.store.rows.notice_rows import DROPPED, SENT, Notice

RECEIPT = Notice(
    1, 7, 41, "receipt", {"entry": 9}, 100, SENT, 100, 1, "", 160, "Maren Okafor", "maren@example.org", "218-555-0161",
    "salt", False, False, "", "Okafor house", "America/Chicago",
)  # fmt: skip


def said(**fields: object) -> str:
    (words,) = copies_words([RECEIPT._replace(**fields)])
    return words


def test_a_copy_that_was_sent_or_will_be_names_where() -> None:
    assert said() == "A copy went to maren@example.org."
    assert said(state=notice_rows.WAITING) == "A copy goes to maren@example.org."


def test_who_gets_none_is_asked_to_keep_it() -> None:
    none = "Maren Okafor gets no mail from us, so please keep it."
    assert said(state=DROPPED) == said(state=notice_rows.RETURNED) == none
    assert said(state=notice_rows.WAITING, email="") == said(state=notice_rows.WAITING, stopped=True) == none
    assert copies_words([]) == []


def test_the_others_who_are_told_are_named_once_it_can_reach_them() -> None:
    other = RECEIPT._replace(kind="other_owner", name="Jonas Okafor", email="jonas@example.org", state="waiting")
    assert copies_words([RECEIPT, other]) == ["A copy went to maren@example.org.", "Jonas Okafor is told."]
    third = other._replace(name="Ida Okafor", state=SENT)
    assert copies_words([other, third]) == ["Jonas Okafor and Ida Okafor are told."]
    assert copies_words([other._replace(email="")]) == []
