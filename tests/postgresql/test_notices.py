"""The outbox on PostgreSQL: sent once by two ticks at once, reminded once, the desk's lists."""

from collections.abc import Iterator
from threading import Barrier, Thread

import pytest

from portal.acts.decisions.answers import approve
from portal.notices.reminders import remind
from portal.notices.sending import send_due
from portal.store.engine.database import close_database
from portal.store.rows import notice_rows
from portal.store.tables import Person
from tests.house import NOW, House, at
from tests.notices.mail_server import mailbox
from tests.notices.office import PostOffice, ask, states


@pytest.fixture
def post_office(house: House) -> Iterator[PostOffice]:
    with mailbox() as box:
        yield PostOffice(house, box)


def test_two_ticks_at_once_send_each_notice_once(house: House, post_office: PostOffice) -> None:
    for _ in range(5):
        ask(house)
    both = Barrier(2)

    def tick() -> None:
        both.wait()
        send_due(post_office.sender)
        close_database()

    ticks = [Thread(target=tick) for _ in range(2)]
    for one in ticks:
        one.start()
    for one in ticks:
        one.join()
    ids = [mail.message["Message-ID"] for mail in post_office.box.mails]
    assert len(ids) == len(set(ids)) == 10
    assert set(states()) == {("asked", "sent")}


def test_each_is_reminded_once(house: House, post_office: PostOffice) -> None:
    for hour in ("08:00", "09:00"):
        remind(at(f"2026-12-09T{hour}"))
    marks = [(row.name, row.about["number"]) for row in notice_rows.in_state("waiting", 99)]
    assert len(marks) == len(set(marks)) and ("Maren Okafor", 5) in marks


def test_a_receipt_is_sent_and_who_has_no_mail_stays_on_the_list(house: House, post_office: PostOffice) -> None:
    Person.update(email="").where(Person.id == house.co_owner.id).execute()
    ask(house)
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert {mail.to[0] for mail in post_office.tick()} == {"maren@example.org"}
    left = notice_rows.in_state("waiting", 9)
    assert {(one.name, one.email, one.on_paper) for one in left} == {("Jonas Okafor", "", False)}
    assert sorted(one.kind for one in left) == ["asked", "other_owner"]
    assert [one.about["number"] for one in left if one.kind == "asked"] == [6]
