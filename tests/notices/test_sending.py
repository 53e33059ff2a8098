"""Sending: what is due goes out once, to the right person, with their own link; what fails is tried for a week."""

import re
from threading import Barrier, Thread

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again
from portal.acts.household.links import make_link, revoke_link
from portal.acts.telling import send_link
from portal.notices import sending
from portal.notices.post import Post
from portal.store import tables
from portal.store.engine.database import close_database
from portal.store.rows import notice_rows
from tests.house import NOW, SECRET, House
from tests.notices.office import BASE, PostOffice, ask, move, states

MAREN, JONAS = "maren@example.org", "jonas@example.org"
DAY = 24 * 3600


def test_each_person_gets_their_own_link_and_not_the_other_ones(house: House, office: PostOffice) -> None:
    ask(house)
    office.tick()
    for who, other, email in (("homeowner", "co_owner", MAREN), ("co_owner", "homeowner", JONAS)):
        (mail,) = office.box.to(email)
        assert f"{office.link(who)}decisions/6/" in mail.text
        assert house.links[other] not in mail.text
    assert office.box.to("ida@example.org") == []


def test_a_decision_is_asked_in_the_sentences_of_the_page(house: House, office: PostOffice) -> None:
    ask_again(house.manager, house.project, house.decisions[1],
              {"question": "Which holes do we drill?", "reason": "The dispenser is sold out."}, NOW)  # fmt: skip
    office.tick()
    (mail,) = office.box.to(MAREN)
    words = " ".join(mail.text.split())
    assert mail.message["Subject"] == "Okafor house, question 1 has changed: please answer by Thu Dec 3"
    for sentence in (
        "Hello Maren Okafor,", "“Which holes do we drill?”", "Please answer by tomorrow, Thu Dec 3.",
        "Until this is approved we don’t start: “Drill the holes in the stone top”, booked for Fri Dec 4.",
        "an earlier answer no longer counts. The dispenser is sold out.",
        "- “Two holes: the faucet and the soap dispenser” We recommend this.", "Adds $45 to the price.",
        "Can’t be undone: A hole in stone can’t be closed again.",
        "Only an answer on that page counts, not one by phone or mail.",
        "Call 218-555-0142.", "Minnesota residential remodeler BC-000000",
    ):
        assert sentence in words, (sentence, words)
    assert max(len(line) for line in mail.text.splitlines() if "://" not in line) <= 72


def test_every_address_in_a_mail_stands_whole_on_one_line_and_opens(
    house: House, office: PostOffice, client: object
) -> None:
    ask(house)
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    send_link(house.office, house.project, house.homeowner.id, now=NOW)
    move(house, "top", 8)
    office.tick()
    found = {one for mail in office.box.to(MAREN) for one in re.findall(r"https://\S+", mail.text)}
    assert len(found) >= 7
    for address in found:
        assert client.get(address.removeprefix(BASE)).status_code == 200, address  # type: ignore[attr-defined]


def test_a_notice_is_sent_once(house: House, office: PostOffice) -> None:
    ask(house)
    assert len(office.tick()) == 2
    assert office.tick() == [] and office.tick(later=DAY) == []
    assert states() == [("asked", "sent"), ("asked", "sent")]


def test_two_ticks_at_once_send_it_once(house: House, office: PostOffice) -> None:
    for _ in range(5):
        ask(house)
    both = Barrier(2)

    def tick() -> None:
        both.wait()
        sending.send_due(office.sender)
        close_database()

    ticks = [Thread(target=tick) for _ in range(2)]
    for one in ticks:
        one.start()
    for one in ticks:
        one.join()
    ids = [mail.message["Message-ID"] for mail in office.box.mails]
    assert len(ids) == len(set(ids)) == 10


def test_after_a_crash_in_the_hand_over_it_comes_again_as_the_same_mail(
    house: House, office: PostOffice, monkeypatch: pytest.MonkeyPatch
) -> None:
    ask(house, approvers=str(house.homeowner.id))

    class PowerLoss(BaseException):
        """Nothing that is caught."""

    def lost(*_: object) -> None:
        raise PowerLoss

    with monkeypatch.context() as crash:
        crash.setattr(notice_rows, "settle", lost)
        with pytest.raises(PowerLoss):
            office.tick()
    assert len(office.box.mails) == 1
    assert office.send(later=sending.CLAIM - 60) == [], "the claim still holds"
    (again,) = office.send(later=60)
    assert again.message["Message-ID"] == office.box.mails[0].message["Message-ID"]
    assert office.send(later=sending.CLAIM) == []


def test_a_lost_answer_is_tried_again_as_the_same_mail(house: House, office: PostOffice) -> None:
    ask(house, approvers=str(house.homeowner.id))
    office.box.hangs_up = True
    office.tick()
    office.box.hangs_up = False
    (again,) = office.tick(later=5 * 60)
    assert again.message["Message-ID"] == office.box.mails[0].message["Message-ID"]
    assert states() == [("asked", "sent")]


def test_what_fails_is_tried_again_with_growing_pauses_and_given_up_after_a_week(
    house: House, office: PostOffice
) -> None:
    ask(house, approvers=str(house.homeowner.id))
    office.box.says["RCPT"] = "451 the mailbox is full"
    tries = []
    for minute in range(0, 8 * 24 * 60, 5):
        office.now = NOW + minute * 60
        sending.send_due(office.sender)
        if tables.Notice.get().tries > len(tries):
            tries.append(minute)
    pauses = [after - before for before, after in zip(tries, tries[1:], strict=False)]
    assert pauses == sorted(pauses) and pauses[0] == 5 and pauses[-1] == 24 * 60
    assert 8 <= len(tries) <= 16
    assert states() == [("asked", "given_up")]
    assert "451 the mailbox is full" in tables.Notice.get().trouble


def test_an_address_that_is_refused_for_good_is_tried_only_once_a_day(house: House, office: PostOffice) -> None:
    ask(house)
    office.box.says[f"RCPT {MAREN}"] = "550 no such user"
    assert [mail.to for mail in office.tick()] == [[JONAS]], "the other mail goes all the same"
    office.box.says.clear()
    assert office.tick(later=23 * 3600) == []
    tables.Person.update(email="maren.okafor@example.org").where(tables.Person.id == house.homeowner.id).execute()
    office.tick(later=2 * 3600)
    assert office.box.to("maren.okafor@example.org"), "it goes to the address as it is now"


def test_a_server_that_is_down_costs_one_connection_a_tick_and_no_letter_a_try(
    house: House, office: PostOffice
) -> None:
    ask(house)
    office.box.says["greeting"] = "421 not now"
    for ticks in range(1, 6):
        office.send(later=5 * 60)
        assert office.box.connections == ticks
    assert {(row.tries, "421 not now" in row.trouble) for row in tables.Notice.select()} == {(0, True)}
    office.box.says.clear()
    assert len(office.send(later=5 * 60)) == 2


def test_one_connection_carries_all_mails_of_a_tick(house: House, office: PostOffice) -> None:
    ask(house)
    office.tick()
    assert office.box.connections == 1


def test_without_a_mail_server_nothing_is_sent_and_old_news_is_not_sent_later(
    house: House, office: PostOffice
) -> None:
    ask(house, approvers=str(house.homeowner.id))
    office.tick_without_mail()
    assert states() == [("asked", "waiting")]
    office.now += 8 * DAY
    office.tick_without_mail()
    assert states() == [("asked", "given_up")]
    sending.send_due(office.sender)
    assert office.box.mails == []


@pytest.mark.parametrize("lacks", ["email", "link", "firm's address"])
def test_who_can_not_be_reached_by_mail_gets_it_once_they_can(
    house: House, office: PostOffice, lacks: str
) -> None:
    ask(house, approvers=str(house.homeowner.id))
    if lacks == "email":
        tables.Person.update(email="").execute()
    elif lacks == "link":
        revoke_link(house.office, house.project, house.homeowner.id, now=NOW)
    else:
        tables.Firm.update(email="").execute()
    assert office.tick() == [] and office.box.connections == 0
    tables.Person.update(email=MAREN).where(tables.Person.id == house.homeowner.id).execute()
    tables.Firm.update(email="office@brackwater.example.com").execute()
    link = house.links["homeowner"]
    if lacks == "link":
        link = make_link(house.office, house.project, house.homeowner.id, secret=SECRET, now=NOW)
    (mail,) = [one for one in office.tick(later=1800) if "question 6" in one.message["Subject"]]
    assert link in mail.text


def test_a_fault_in_one_letter_does_not_keep_the_others(
    house: House, office: PostOffice, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    ask(house)
    really = Post.hand_over

    def fails_for_maren(post: Post, message: object, sender: str, to: str, name: str) -> None:
        if to == MAREN:
            raise RuntimeError("a fault of ours")
        really(post, message, sender, to, name)  # type: ignore[arg-type]

    monkeypatch.setattr(Post, "hand_over", fails_for_maren)
    assert [mail.to for mail in office.tick()] == [[JONAS]]
    assert "could not be sent" in caplog.text and house.links["homeowner"] not in caplog.text
