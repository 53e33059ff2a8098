"""Letters after something was taken back: what was told is corrected once, what was not told stays untold."""

import pytest

from portal.acts.plan import starting, taking_back
from portal.notices.evenings.telling import tell_evenings
from portal.notices.notice_kinds import KINDS
from portal.store import tables
from portal.store.rows import notice_rows
from tests.house import House, at
from tests.notices.office import PostOffice
from tests.notices.test_evening import flat, mails, water_off

EVENING = (water_off,)  # the house of which Tuesday takes the water
OFF = "Okafor house, tomorrow, Tue Dec 8: no water in the Hall bath, 8:00 to 3:00"


def slip(house: House, when: str) -> None:
    """The wrong row: the grout of the bath floor is said to be done."""
    ids = (house.manager, house.project, house.phases["floor_grout"])
    starting.start_phase(*ids, now=at(when))
    starting.finish_phase(*ids, now=at(when))


def mend(house: House, when: str) -> None:
    ids = (house.manager, house.project, house.phases["floor_grout"])
    taking_back.take_back_finish(*ids, reason="The wrong row", now=at(when))
    taking_back.take_back_start(*ids, reason="The wrong row", now=at(when))


def test_after_the_mail_went_out_each_gets_one_letter_that_puts_it_right(house: House, office: PostOffice) -> None:
    assert len(mails(office, "2026-12-07T16:30")) == 2
    slip(house, "2026-12-07T17:00")
    assert "no longer holds" in flat(mails(office, "2026-12-07T17:05")[0])
    mend(house, "2026-12-07T17:10")
    right = mails(office, "2026-12-07T17:15")
    assert [mail.message["Subject"] for mail in right] == [OFF, OFF]
    assert "What we wrote you about tomorrow, Tue Dec 8 has changed. This is what holds now:" in flat(right[0])
    assert mails(office, "2026-12-07T17:20") == []


def test_a_letter_that_was_withdrawn_unsent_goes_out_after_all(house: House, office: PostOffice) -> None:
    tell_evenings(at("2026-12-07T16:30"))
    slip(house, "2026-12-07T16:31")
    assert mails(office, "2026-12-07T16:35") == []
    mend(house, "2026-12-07T16:40")
    assert [mail.message["Subject"] for mail in mails(office, "2026-12-07T16:45")] == [OFF, OFF]


@pytest.fixture
def closed(house: House) -> House:
    about = {"decision": house.decisions[1], "number": 1, "revision": 1}
    when = at("2026-12-02T07:00")
    notice_rows.add(house.project, house.homeowner.id, "asked", about, when)
    tables.Notice.update(state="sent", settled_at=when).execute()
    ids = (house.manager, house.project, house.phases["drill"])
    starting.release_phase(*ids, reason="They phoned", now=at("2026-12-02T07:30"))
    starting.start_phase(*ids, now=at("2026-12-02T07:30"))
    return house


def test_an_open_question_is_told_once_with_why_and_when(closed: House, office: PostOffice) -> None:
    ids = (closed.manager, closed.project, closed.phases["drill"])
    taking_back.take_back_start(*ids, reason="The wrong row", now=at("2026-12-02T09:00"))
    office.now = at("2026-12-02T09:05")
    (mail,) = office.send()
    assert mail.message["Subject"].startswith("Okafor house, question 1 is open again: ")
    assert "We had noted by mistake that “Drill the holes in the stone top” had begun; it has not." in flat(mail)
    assert office.send() == []
    about = tables.Notice.get(tables.Notice.kind == "opened_again").about
    assert "So it is open again" in KINDS["opened_again"].told(about, "")
