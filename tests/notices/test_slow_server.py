"""A slow mail server: how long we wait by RFC 5321, 4.5.3.2, what a slow one holds, and that nothing is sent twice."""

import re
import time
from dataclasses import fields, replace
from pathlib import Path

import pytest

from portal.notices import sending
from portal.notices.post import WAITS, NotHandedOver, Post, Unreachable, Waits
from portal.store import tables
from tests.house import NOW, House
from tests.notices.mail_server import Mailbox
from tests.notices.office import PostOffice, ask, states

LETTER = b"Subject: Your page\r\n\r\n.\r\n..Hello\r\n"
UNIT = Path(__file__).parents[2] / "deploy" / "portal-tick.service"
MINUTE = 60
SHORT = Waits(command=0.2, data=0.2, block=0.2, end_of_data=5, good_bye=0.2, before_the_end=5)


def hand_over(box: Mailbox, waits: Waits) -> None:
    with Post(box.server, "portal.example.org", waits) as post:
        post.hand_over(LETTER, "office@example.com", "maren@example.org")


def test_each_phase_has_the_time_that_the_rfc_gives_it() -> None:
    """RFC 5321, 4.5.3.2.1 to 4.5.3.2.6, in minutes: greeting, MAIL and RCPT 5; DATA 2; a block 3; the end 10."""
    minutes = {field.name: getattr(WAITS, field.name) / MINUTE for field in fields(WAITS)}
    assert (minutes["command"], minutes["data"], minutes["block"], minutes["end_of_data"]) == (5, 2, 3, 10)


def test_a_tick_may_last_as_long_as_its_last_letter_and_the_claim_longer_than_the_tick() -> None:
    (limit,) = re.findall(r"^TimeoutStartSec=(\d+)min$", UNIT.read_text(), re.M)
    assert sending.BEGUN_WITHIN + WAITS.longest < int(limit) * MINUTE < sending.CLAIM


def test_the_socket_waits_as_long_as_the_phase_may_last(box: Mailbox, monkeypatch: pytest.MonkeyPatch) -> None:
    waited: dict[str, float] = {}
    real = Post._send

    def seen(post: Post, connection: object, *given: object) -> None:
        putcmd, getreply = connection.putcmd, connection.getreply  # type: ignore[attr-defined]
        said = ["greeting"]
        connection.putcmd = lambda *words: (said.append(words[0].split()[0].lower()), putcmd(*words))  # type: ignore[attr-defined]

        def answer() -> object:
            phase = "end of data" if said[-1] in waited and said[-1] == "data" else said[-1]
            waited[phase] = connection.sock.gettimeout()  # type: ignore[attr-defined]
            return getreply()

        connection.getreply = answer  # type: ignore[attr-defined]
        real(post, connection, *given)  # type: ignore[arg-type]

    monkeypatch.setattr(Post, "_send", seen)
    hand_over(box, WAITS)
    assert {name: seconds / MINUTE for name, seconds in waited.items() if name != "quit"} == {
        "ehlo": 5, "mail": 5, "rcpt": 5, "data": 2, "end of data": 10,
    }
    assert box.mails[0].data == LETTER, "dots at the beginning of lines arrive (RFC 5321, 4.5.2)"


def test_a_server_that_takes_its_time_at_the_end_delivers_the_letter_once(house: House, office: PostOffice) -> None:
    """It answers after 9 minutes; meanwhile a second tick begins, and a third after it."""
    ask(house, approvers=str(house.homeowner.id))
    arrived: list[int] = []

    def nine_minutes() -> None:
        if not arrived:
            arrived.append(1)
            office.now += 9 * MINUTE

    office.box.before_the_answer = nine_minutes
    assert len(office.send()) == 1
    assert office.send() == [] and office.send(later=sending.CLAIM) == []
    assert states() == [("asked", "sent")] and tables.Notice.get().settled_at == NOW + 9 * MINUTE


def test_what_is_claimed_for_nine_minutes_is_nobody_elses(house: House, office: PostOffice) -> None:
    ask(house, approvers=str(house.homeowner.id))
    during: list[int] = []

    def another_tick() -> None:
        if not during:
            during.append(len(sending.that_can_go(office.now + 9 * MINUTE)))

    office.box.before_the_answer = another_tick
    assert len(office.send()) == 1 and during == [0]


def test_only_the_end_of_the_data_is_waited_for_so_long(box: Mailbox) -> None:
    box.before_the_answer = lambda: time.sleep(0.4)
    hand_over(box, SHORT)
    assert len(box.mails) == 1
    with pytest.raises(NotHandedOver, match="it did not answer in time"):
        hand_over(box, replace(SHORT, end_of_data=0.1))


@pytest.mark.parametrize("phase", ["greeting", "EHLO", "MAIL", "RCPT maren@example.org", "DATA"])
def test_a_server_that_says_nothing_is_left_after_the_time_of_the_phase(box: Mailbox, phase: str) -> None:
    box.waits[phase] = 0.6
    with pytest.raises(Unreachable if phase == "greeting" else NotHandedOver, match="did not answer in time"):
        hand_over(box, SHORT)
    assert box.mails == []


def test_one_that_sends_a_byte_now_and_then_is_left_as_well(box: Mailbox) -> None:
    box.drips = True
    began = time.monotonic()
    with pytest.raises(NotHandedOver, match="did not answer in time"):
        hand_over(box, replace(SHORT, before_the_end=0.5))
    assert time.monotonic() - began < 3 and box.mails == []


def test_a_slow_server_holds_one_letter_and_the_next_tick_begins_with_another(
    house: House, office: PostOffice
) -> None:
    ask(house)
    office.waits = replace(SHORT, end_of_data=0.1)

    def slow_for_one() -> None:
        if len(office.box.mails) == 1:
            office.now += 10 * MINUTE
            time.sleep(0.3)

    office.box.before_the_answer = slow_for_one
    office.send()
    assert [one.to[0] for one in office.box.mails] == ["maren@example.org"], "no other letter is begun so late"
    assert [one.to[0] for one in office.send()] == ["jonas@example.org"]
    (again,) = office.send(later=5 * MINUTE)
    assert again.to == ["maren@example.org"]
    assert again.message["Message-ID"] == office.box.mails[0].message["Message-ID"]
    assert states() == [("asked", "sent"), ("asked", "sent")]


def test_no_letter_is_begun_when_the_time_of_the_tick_is_over(house: House, office: PostOffice) -> None:
    for _ in range(3):
        ask(house)

    def a_minute_and_a_half() -> None:
        office.now += 90

    office.box.before_the_answer = a_minute_and_a_half
    assert len(office.send()) == 3
    assert len(office.send()) == 3
