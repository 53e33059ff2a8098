"""Notices at the desk: whom to call, what is on its way, what went out; and the link for who answered on the phone."""

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from flask import Flask

from portal import clock
from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again, ask_decision
from portal.acts.decisions.asking_back import ask_back
from portal.acts.household.consent import go_back_to_paper
from portal.acts.telling import send_link
from portal.request.services import Services
from portal.settings import MailServer, ReturnedMail
from portal.store.rows import notice_rows
from portal.store.rows.letters import mail_rows
from portal.store.tables import Approval, Call, Decision, Firm, Link, Notice, Person, StaffNotice
from portal.web.desk.people import notices
from tests.house import NOW, House
from tests.web.signed_in import Desk

QUESTION = {"question": "Which side does the door open to?", "options": [{"title": "In"}, {"title": "Out"}]}
NEW_CALL = "/desk/projects/7/calls/new"


@pytest.fixture
def mail(app: Flask) -> Iterator[None]:
    """The portal with a mail server."""
    found: Services = app.extensions["portal"]
    settings = replace(found.settings, smtp=MailServer("mail.example.com", 25))
    app.extensions["portal"] = Services(settings, found.publisher)
    yield
    app.extensions["portal"] = found


def ask(house: House, words: str = QUESTION["question"]) -> None:
    ask_decision(house.manager, house.project, QUESTION | {"question": words}, NOW)


def part(desk: Desk, heading: str) -> str:
    """What the page says below a heading, up to the next."""
    text = desk.open("/desk/notices/").says
    rest = text.split(f" {heading} ")[1]
    return re.split(" (?:On the way|Waits for mail|Sent lately) ", rest)[0]


def test_without_a_mail_server_the_desk_says_so_and_whom_to_call(office: Desk, house: House) -> None:
    ask(house)
    office.open("/desk/").open("/desk/notices/")
    assert "Mail is not set up on this server, so none is sent. Tell people by phone." in office.says
    calls = part(office, "Tell them by phone")
    for words in (
        "Maren Okafor gets no mail, since none is sent from here.", "Jonas Okafor", "218-555-0161", "Okafor house",
        "“Which side does the door open to?” needs an answer.",
    ):
        assert words in calls
    assert part(office, "Waits for mail") == "Nothing waits to be sent."
    assert f"/desk/projects/7/calls/new?person={house.homeowner.id}" in office.ways
    assert f"/desk/projects/7/decisions/{Notice.get().about['decision']}/" in office.ways


def test_each_person_is_called_once_with_all_there_is_to_tell(office: Desk, house: House) -> None:
    ask(house)
    ask(house, "Which latch?")
    calls = part(office, "Tell them by phone")
    assert calls.count("Maren Okafor, Okafor house") == 1 and calls.count("since none is sent") == 2
    assert calls.index("“Which latch?” needs an answer.") < calls.index("“Which side does the door open to?” needs")


def test_one_press_says_that_a_person_was_told_all_of_it(office: Desk, house: House) -> None:
    ask(house)
    ask(house)
    way = f"/desk/projects/7/people/{house.homeowner.id}/told"
    office.open("/desk/notices/")
    sent = office.typed(way) | {"notice": [str(row.id) for row in Notice.select()]}
    ask(house, "Which latch?")
    office.path = way
    office.post(sent)
    calls = part(office, "Tell them by phone")
    assert "“Which latch?” needs an answer." in calls.split("Maren Okafor, Okafor house")[1].split("Jonas")[0]
    told = {(row.person_id, row.state) for row in Notice.select() if row.state == "told"}
    assert told == {(house.homeowner.id, "told")}
    assert Notice.select().where(Notice.state == "told").count() == 2


def test_what_is_no_longer_true_is_nothing_to_call_about(office: Desk, house: House) -> None:
    ask(house)
    decision = Decision.get(Decision.number == 6)
    ask_again(house.manager, house.project, decision.id, {"question": "Which side, then?"}, NOW + 60)
    calls = part(office, "Tell them by phone")
    assert "The question has changed: “Which side, then?” needs an answer." in calls
    assert "Which side does the door open to?" not in calls
    approve(house.homeowner, house.project, decision.id, revision=2, option="a", name="Maren Okafor", now=NOW)
    assert part(office, "Tell them by phone") == "Nobody is left to call."


def test_nobody_is_told_to_answer_while_they_wait_for_ours(office: Desk, house: House) -> None:
    ask(house)
    says = office.open("/desk/").says
    assert ": “Which side" in says and "No mail is sent from here." in says
    decision = Decision.get(Decision.number == 6)
    ask_back(house.homeowner, house.project, decision.id, revision=1, text="In where?", now=NOW)
    assert part(office, "Tell them by phone") == "Nobody is left to call."
    assert "No mail is sent from here." not in office.open("/desk/").says


def test_a_link_that_was_promised_is_made_anew_since_nobody_can_say_it(office: Desk, house: House) -> None:
    send_link(house.office, house.project, house.homeowner.id, now=NOW)
    calls = part(office, "Tell them by phone")
    assert "They were promised their own link." in calls and "They have it" in calls and "They are told" not in calls
    assert f"/desk/projects/7/people/{house.homeowner.id}/link" in office.ways


def test_without_mail_nothing_says_that_it_goes_out_soon(office: Desk, house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    says = office.open("/desk/notices/").says
    assert "It waits: Maren Okafor gets no mail" in says and "within minutes" not in says


def test_without_mail_a_call_leads_to_a_link_that_can_be_texted(office: Desk, house: House) -> None:
    assert "Then make them a link" in office.open(NEW_CALL).says and "by mail" not in office.says
    office.send(caller="Jonas", asked="One hole is fine.", send_link_to=house.co_owner.id)
    assert office.path == f"/desk/projects/7/people/{house.co_owner.id}/link"
    assert "Until then make a new one here, and text or read it to them." in office.says
    says = office.open("/desk/projects/7/calls/").says
    assert "The link for Jonas Okafor waits to be sent. Noted by Lou Ferris." in says
    notice_rows.settle(Notice.get().id, "sent", NOW + 60)
    assert "The link was sent to Jonas Okafor on Wed Dec 2, 7:31 am." in office.open("/desk/projects/7/calls/").says


def test_without_an_address_of_the_firm_the_desk_says_so(office: Desk, mail: None) -> None:
    Firm.update(email="").execute()
    assert "because the firm has no e-mail address" in office.open("/desk/notices/").says


def test_with_a_mail_server_only_whoever_has_no_mail_is_to_be_called(office: Desk, house: House, mail: None) -> None:
    Person.update(email="").where(Person.id == house.co_owner.id).execute()
    ask(house)
    assert "Mail goes out by mail.example.com" in office.open("/desk/notices/").says
    calls = part(office, "Tell them by phone")
    assert "Jonas Okafor has no e-mail address." in calls and "Maren" not in calls
    coming = part(office, "On the way")
    assert "Maren Okafor" in coming and "Goes out within minutes." in coming and "Jonas" not in coming


def test_who_has_no_link_that_opens_is_to_be_called(office: Desk, house: House, mail: None) -> None:
    Link.update(revoked_at=NOW).where(Link.person == house.homeowner.id).execute()
    ask(house)
    assert "Maren Okafor has no link that opens." in part(office, "Tell them by phone")


def test_who_went_back_to_paper_gets_it_on_paper(office: Desk, house: House, mail: None) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    go_back_to_paper(house.homeowner, house.project, now=NOW)
    calls = part(office, "Tell them by phone")
    assert "Maren Okafor has gone back to paper: print it and hand it over." in calls
    assert "The receipt of the choice for “" in calls and "”, entry 2." in calls


def test_a_receipt_is_nothing_to_call_about(office: Desk, house: House) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert part(office, "Tell them by phone") == "Nobody is left to call."


def test_who_was_told_is_off_the_list_and_gets_no_mail(office: Desk, house: House) -> None:
    ask(house)
    first = Notice.select().where(Notice.person == house.homeowner.id).get()
    office.open("/desk/notices/").send(f"/desk/projects/7/notices/{first.id}/told")
    assert "Noted." in office.says
    assert "Maren" not in part(office, "Tell them by phone")
    assert Notice.get_by_id(first.id).state == "told"
    assert [one.name for one in notice_rows.due(NOW)] == ["Jonas Okafor"]


def test_what_was_given_up_stays_until_they_are_told(office: Desk, house: House, mail: None) -> None:
    ask(house)
    for row in Notice.select():
        notice_rows.later(row.id, NOW, "The mail server did not take it: 550 no such user")
        notice_rows.settle(row.id, "given_up", NOW)
    assert "Maren Okafor did not get our mail, though we tried for a week." in part(office, "Tell them by phone")
    office.send(f"/desk/projects/7/notices/{Notice.get().id}/told")
    assert "Maren" not in part(office, "Tell them by phone")


def test_a_mail_that_fails_is_seen_at_once_with_the_reason(office: Desk, house: House, mail: None) -> None:
    ask(house)
    notice_rows.claim(Notice.get().id, NOW + 600, NOW)
    notice_rows.later(Notice.get().id, NOW + 600, "The mail server did not take it: 550 no such user")
    coming = part(office, "On the way")
    assert "Tried once. The mail server did not take it: 550 no such user." in coming
    assert "The next try is Wed Dec 2, 7:40 am." in coming


def test_what_went_out_is_listed(office: Desk, house: House, mail: None) -> None:
    ask(house)
    notice_rows.settle(Notice.get().id, "sent", NOW)
    assert "open to?” needs an answer. Sent Wed Dec 2, 7:30 am." in part(office, "Sent lately")


def test_a_notice_of_another_house_can_not_be_ticked_off_here(office: Desk, house: House) -> None:
    ask(house)
    office.open("/desk/notices/")
    sent = office.typed(f"/desk/projects/7/notices/{Notice.get().id}/told")
    office.path = f"/desk/projects/8/notices/{Notice.get().id}/told"
    office.post(sent, 404)
    assert Notice.get().state == "waiting"


def test_a_spoken_answer_is_noted_sends_the_link_and_approves_nothing(office: Desk, house: House, mail: None) -> None:
    before = Approval.select().count()
    office.open(f"{NEW_CALL}?person={house.co_owner.id}")
    office.send(asked="One hole is fine with me.", told="Your link is on its way.", send_link_to=house.co_owner.id)
    assert "The call is noted, and the link goes to Jonas Okafor." in office.says
    assert [(row.kind, row.person_id) for row in Notice.select()] == [("link", house.co_owner.id)]
    assert Call.get().caller == "Jonas Okafor" and Approval.select().count() == before
    assert Decision.get_by_id(house.decisions[1]).state == "asked"


def test_a_call_without_a_spoken_answer_sends_nothing(office: Desk, house: House) -> None:
    office.open(NEW_CALL).send(caller="A neighbor", asked="When does the noise end?")
    assert "The call is noted." in office.says and not Notice.select().exists()


def test_only_people_of_this_house_with_mail_can_be_sent_the_link(office: Desk, house: House, mail: None) -> None:
    Person.update(email="").where(Person.id == house.co_owner.id).execute()
    says = office.open(NEW_CALL).says
    assert "Maren Okafor, maren@example.org" in says and "Jonas Okafor, " not in says and "Ida" not in says


def test_a_refused_link_keeps_what_was_typed(office: Desk, house: House) -> None:
    Link.update(revoked_at=NOW).execute()
    office.open(NEW_CALL).send(
        status=422, caller="Maren", asked="One hole is fine.", send_link_to=house.homeowner.id
    )
    assert office.wrong("send_link_to").startswith("Maren Okafor has no link that opens.")
    assert office.typed()["asked"].strip() == "One hole is fine." and not Call.select().exists()


def test_the_office_sends_someone_their_link(office: Desk, house: House, mail: None) -> None:
    office.open("/desk/projects/7/people/")
    way = f"/desk/projects/7/people/{house.homeowner.id}/send-link"
    assert way in office.ways
    office.open(way)
    assert "It goes to maren@example.org" in office.says
    office.send()
    assert "The link is on its way to Maren Okafor." in office.says
    assert [(row.kind, row.person_id) for row in Notice.select()] == [("link", house.homeowner.id)]
    assert house.links["homeowner"] not in office.says, "it is in the mail alone"


def test_the_link_of_who_has_no_mail_is_not_offered_and_not_sent(office: Desk, house: House, mail: None) -> None:
    Person.update(email="").where(Person.id == house.homeowner.id).execute()
    way = f"/desk/projects/7/people/{house.homeowner.id}/send-link"
    assert way not in office.open("/desk/projects/7/people/").ways
    office.open(way).send(status=422)
    assert "Maren Okafor has no e-mail address." in office.says and not Notice.select().exists()


def test_a_letter_that_could_not_be_written_as_it_is_meant_is_told_by_phone(
    office: Desk, house: House, mail: None
) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="b", name="Maren Okafor", now=NOW)
    Notice.update(state="unwritten", settled_at=NOW).execute()
    calls = part(office, "Tell them by phone")
    assert "Maren Okafor did not get our mail: it would have been read otherwise than it is meant." in calls
    assert "The receipt of the choice for “" in calls and "”, entry 2." in calls
    for notice in Notice.select():  # the receipt, and what the other owner is told
        office.send(f"/desk/projects/7/notices/{notice.id}/told")
    assert part(office, "Tell them by phone") == "Nobody is left to call."


def test_whom_to_call_is_hidden_by_no_number_of_letters_that_nobody_need_be_told(
    office: Desk, house: House, mail: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(notices, "MOST", 2)
    monkeypatch.setattr(notices, "still_true", lambda found: [one for one in found if one.id != settled.id])
    ask(house)
    row = {"project": 7, "person": house.homeowner.id, "made_at": NOW, "due_at": NOW, "state": "given_up"}
    settled = Notice.create(**row, kind="link", about={})
    for entry in range(3):
        Notice.create(**row, kind="receipt", about={"entry": entry})
    Notice.update(state="given_up").execute()
    told = part(office, "Tell them by phone")
    assert told.count("Maren Okafor did not get our mail") == told.count("Jonas Okafor did not get our mail") == 1
    assert "not looked at" not in told
    monkeypatch.setattr(notices, "MOST", 1)
    assert "Older ones that were not looked at: 1." in part(office, "Tell them by phone")


def test_a_server_that_can_not_be_reached_is_said_of_each_letter_that_waits(
    office: Desk, house: House, mail: None
) -> None:
    ask(house)
    notice_rows.held(NOW, "mail.example.com:25 can't be used: it did not answer in time")
    assert part(office, "On the way").count(
        "mail.example.com:25 can't be used: it did not answer in time. The next try is within minutes."
    ) == 2


def test_the_desk_says_that_nobody_reads_what_comes_back(office: Desk, house: House, mail: None) -> None:
    says = office.open("/desk/notices/").says
    assert "Mail that comes back is not read here: no mailbox is set for it (PORTAL_BOUNCES)." in says


def test_the_desk_says_what_came_back_and_why_it_can_not_be_read(
    office: Desk, house: House, mail: None, app: Flask
) -> None:
    mailbox = ReturnedMail("mail.example.com", 993, "returns", "p")
    found: Services = app.extensions["portal"]
    app.extensions["portal"] = Services(replace(found.settings, bounces=mailbox), found.publisher)
    ask(house)
    letter = mail_rows.letter(Notice.get().id)
    assert letter is not None
    Notice.update(state="sent").execute()
    mail_rows.came_back(letter, NOW, "5.1.1", "550 5.1.1 no such user", True)
    mail_rows.mailbox_not_read(mailbox.name, "[AUTHENTICATIONFAILED] wrong")
    assert "Maren Okafor did not get our mail, it came back: 550 5.1.1 no such user." in part(
        office, "Tell them by phone")
    assert "Mail that comes back can’t be read: [AUTHENTICATIONFAILED] wrong." in office.says
    assert "Our own people who" not in office.says
    row = {"project": 7, "about": {}, "made_at": clock.now(), "due_at": NOW}
    StaffNotice.create(**row, staff=house.manager.id, kind="message", state="given_up")
    assert "did not get our mail, though we tried for a week. It tells of what waits for us there since" in part(
        office, "Our own people who did not get a letter")
    says = office.open("/desk/projects/7/people/").says
    assert "Mail to them comes back: 550 5.1.1 no such user. Tell them by phone." in says
