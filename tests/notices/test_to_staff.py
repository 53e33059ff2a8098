"""Letters to our own managers: what a household has told us, and which visits do not suit; as long as it is so."""

import pytest

from portal.acts.household.crew_notes import write_crew_note
from portal.acts.household.messages import answer_message, send_message
from portal.acts.visiting.suiting import answer_visit
from portal.store import tables
from portal.store.tables import Message, StaffNotice, Visit
from tests.house import NOW, House
from tests.notices.office import PostOffice

DANA = "dana@brackwater.example.com"


def tell(house: House) -> Message:
    return send_message(
        house.homeowner, house.project, text="The tap drips.", room=house.rooms["bath"], photo=None, now=NOW)


def say(house: House, *, suits: bool, now: int = NOW) -> None:
    visit = Visit.get_by_id(house.visits["paint"])
    answer_visit(house.homeowner, house.project, visit.id, suits=suits, why="We are away", starts_at=visit.starts_at,
                 now=now)  # fmt: skip


def test_each_manager_is_told_once_and_the_answer_goes_to_who_told_us(house: House, office: PostOffice) -> None:
    write_crew_note(house.homeowner, house.project, {"alarm": "4711"}, now=NOW)
    message = tell(house)
    (mail,) = office.send()
    assert mail.to == [DANA] and mail.message["Subject"] == "Okafor house: Maren Okafor told us something"
    words = " ".join(mail.text.split())
    assert "Maren Okafor told us on Wed Dec 2, 7:30 am (Hall bath): “The tap drips.”" in words
    assert f"/desk/projects/{house.project}/messages/{message.id}/answer" in words
    assert "Their phone: 218-555-0161" in words and "4711" not in mail.text and "/p/" not in mail.text
    assert office.send(later=600) == []
    answer_message(house.office, house.project, message.id, answer="Sam comes on Friday.", now=NOW)
    (answer,) = office.send(later=900)
    assert answer.to == ["maren@example.org"] and "Lou Ferris answered: “Sam comes on Friday.”" in (
        " ".join(answer.text.split()))
    assert f"{house.links['homeowner']}/messages/{message.id}/" in answer.text


def test_what_is_answered_before_the_mail_goes_is_no_news(house: House, office: PostOffice) -> None:
    answer_message(house.office, house.project, tell(house).id, answer="Done.", now=NOW)
    assert [mail.to for mail in office.send()] == [["maren@example.org"]]
    assert [row.state for row in StaffNotice.select()] == ["dropped"]


@pytest.mark.parametrize("later", ["suits", "moved", "cancelled", "over"])
def test_a_visit_that_suits_after_all_is_no_news(house: House, office: PostOffice, later: str) -> None:
    say(house, suits=False)
    visit = Visit.get_by_id(house.visits["paint"])
    if later == "suits":
        say(house, suits=True, now=NOW + 60)
    elif later == "moved":
        Visit.update(starts_at=visit.starts_at + 3600).where(Visit.id == visit.id).execute()
    elif later == "cancelled":
        Visit.update(cancelled_at=NOW).where(Visit.id == visit.id).execute()
    assert office.send(later=visit.ends_at - NOW if later == "over" else 0) == []


def test_a_visit_that_does_not_suit_is_told(house: House, office: PostOffice) -> None:
    say(house, suits=False)
    (mail,) = office.send()
    words = " ".join(mail.text.split())
    assert mail.to == [DANA] and "does not suit Maren Okafor: “We are away”" in words
    assert f"/desk/projects/{house.project}/visits/{house.visits['paint']}/change" in words


def test_who_has_left_is_told_nothing(house: House, office: PostOffice) -> None:
    tell(house)
    tables.Staff.update(active=False).where(tables.Staff.id == house.manager.id).execute()
    assert office.send() == [] and StaffNotice.get().state == "dropped"


def test_what_the_server_refuses_is_tried_again_and_given_up_after_a_week(house: House, office: PostOffice) -> None:
    tell(house)
    office.box.says = {"RCPT": "450 not now"}
    assert office.send() == []
    row = StaffNotice.get()
    assert row.state == "waiting" and row.tries == 1 and row.due_at > NOW and row.trouble
    assert office.send(later=8 * 86_400) == []
    assert StaffNotice.get().state == "given_up"
