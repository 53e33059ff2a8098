"""Whoever is no owner any more once a letter goes gets it without sums, whatever it tells, and no signed file."""

from collections.abc import Iterator
from datetime import datetime
from typing import Any

import pytest

from portal.acts.actor import Actor
from portal.acts.decisions.answers import approve, enter_paper_approval, take_back_paper_approval
from portal.acts.decisions.asking import answer_question, ask_decision
from portal.acts.decisions.asking_back import ask_back
from portal.acts.firm.projects import change_person
from portal.acts.household.prices import show_prices
from portal.acts.visiting.visits import cancel_visit, change_visit
from portal.pages.without_sums import LEFT_OUT
from portal.store import tables
from portal.store.rows.notice_rows import SENT
from tests.house import NOW, House
from tests.notices.mail_server import Mail
from tests.notices.office import PostOffice, states

MAREN, JONAS = "maren@example.org", "jonas@example.org"
SUMS = ("1,337", "133700", "2,468", "99.95", "$")
QUESTION: dict[str, Any] = {
    "question": "Which hood? The allowance is $2,468.",
    "options": [
        {"key": "a", "title": "The quiet one for $1,337", "cost_cents": 133_700, "days": 1,
         "effects": "It costs 1,337 dollars more.", "cannot_be_undone": "The hole, and US$ 99.95 for it."},
        {"key": "b", "title": "The small one"},
    ],
}  # fmt: skip
TOLD = {"receipt": 2, "answered": 1, "taken_back": 1, "visit_moved": 1, "visit_cancelled": 1}
"""How many letters of each kind wait for either of them; one of the receipts is of an answer on paper."""


@pytest.fixture
def told(house: House) -> House:
    """Both owners were told the same, and one of them is no owner any more before a letter went."""
    for actor in (house.homeowner, house.co_owner):
        _answered(house, actor)
    moved = {"purpose": "Measure, and collect $1,337", "starts_at": datetime(2026, 12, 9, 9),
             "ends_at": datetime(2026, 12, 9, 14), "reason": "Rain"}  # fmt: skip
    change_visit(house.office, house.project, house.visits["paint"], 1, moved, NOW)
    cancel_visit(house.office, house.project, house.visits["top"], 1, because="The saw would cost $99.95", now=NOW)
    version = tables.Person.get_by_id(house.co_owner.id).version
    change_person(house.manager, house.project, house.co_owner.id, version, {"may_approve": False}, NOW)
    return house


def _answered(house: House, actor: Actor) -> None:
    one, other = (ask_decision(house.manager, house.project, dict(QUESTION), NOW).id for _ in range(2))
    approve(actor, house.project, one, revision=1, option="a", name=actor.name, now=NOW)
    paper = {"revision": 1, "option": "a", "person": actor.id, "name": actor.name}
    enter_paper_approval(house.office, house.project, other, **paper, now=NOW)
    because = "He signed for the $1,337 of another house"
    take_back_paper_approval(house.office, house.project, other, person=actor.id, reason=because, now=NOW)
    asked = ask_back(actor, house.project, other, revision=1, text="Is it $2,468?", now=NOW)
    answer_question(house.manager, house.project, other, asked.id, answer="No, $1,337 or USD 99.95.", now=NOW)


def parts(mail: Mail) -> Iterator[str]:
    """Subject and text, and what is attached."""
    yield mail.message["Subject"]
    yield " ".join(mail.text.split())
    yield from (str(one.get_content()) for one in mail.message.iter_attachments())


def sums_in(mail: Mail) -> list[str]:
    return [one for one in SUMS if any(one in part for part in parts(mail))]


def files(mails: list[Mail]) -> list[str]:
    return [str(one.get_filename()) for mail in mails for one in mail.message.iter_attachments()]


def test_no_letter_to_who_reads_no_prices_holds_a_sum(told: House, office: PostOffice) -> None:
    office.send()
    for person in (told.homeowner, told.co_owner):
        notices = tables.Notice.select().where(tables.Notice.person == person.id, tables.Notice.state == SENT)
        sent = [row.kind for row in notices]
        assert {kind: sent.count(kind) for kind in TOLD} == TOLD, states()
    owners, others = office.box.to(MAREN), office.box.to(JONAS)
    assert [mail.message["Subject"] for mail in others if sums_in(mail)] == []
    assert sum(LEFT_OUT in " ".join(parts(mail)) for mail in others) >= sum(TOLD.values())
    assert sum(bool(sums_in(mail)) for mail in owners) >= sum(TOLD.values())
    assert len(files(owners)) == 2 and files(others) == []


def test_a_receipt_without_its_file_says_who_can_have_prices_shown(told: House, office: PostOffice) -> None:
    office.send()
    kept = [" ".join(mail.text.split()) for mail in office.box.to(JONAS) if "is kept" in mail.message["Subject"]]
    assert len(kept) == 2
    assert all("Prices are left out on your pages. Maren Okafor can have them shown to you." in one for one in kept)
    assert all("Check code of what you were shown" in one and "The attached file" not in one for one in kept)


def test_once_an_owner_says_yes_they_are_told_whole(told: House, office: PostOffice) -> None:
    show_prices(told.homeowner, told.project, told.co_owner.id, now=NOW)
    office.send()
    assert sum(bool(sums_in(mail)) for mail in office.box.to(JONAS)) >= sum(TOLD.values())
    assert len(files(office.box.to(JONAS))) == 2
