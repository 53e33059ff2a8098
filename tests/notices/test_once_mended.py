"""A mistake that is taken back after mail went out, an approval came and a visit moved: beside a house in which it was
never made, nothing is left of it but its letters."""

import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.plan import starting, taking_back
from portal.acts.visiting.deliveries import record_arrival, take_back_arrival
from portal.planning.schedule.booked import as_booked
from portal.store.engine.database import close_database
from portal.store.facts import Snapshot
from portal.store.reading import desk_lines
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import notice_rows
from portal.store.tables import Delivery, Notice
from tests.house import House, at, make_house
from tests.notices.mail_server import Mail, Mailbox, mailbox
from tests.notices.office import PostOffice, move

ASKED, WRONG, SENT, MENDED = (at(f"2026-12-02T{hour}") for hour in ("07:30", "08:00", "08:30", "09:30"))
WHY = "The wrong row"
Undo = list[Callable[[], object]]


@dataclass(frozen=True)
class Lived:
    """`dates`: of the plan and as booked; `told`: all letters, by kind and person."""

    snapshot: Snapshot
    dates: tuple[object, ...]
    to_do: list[tuple[str, object]]
    waiting: list[tuple[str, int]]
    told: Counter[tuple[str, int]]
    again: list[Mail]


def released_and_started(house: House) -> Undo:
    ids = (house.manager, house.project, house.phases["drill"])
    starting.release_phase(*ids, reason="They phoned", now=WRONG)
    starting.start_phase(*ids, now=WRONG)
    return [lambda: taking_back.take_back_start(*ids, reason=WHY, now=MENDED),
            lambda: taking_back.take_back_release(*ids, reason=WHY, now=MENDED)]  # fmt: skip


def released(house: House) -> Undo:
    ids = (house.manager, house.project, house.phases["drill"])
    starting.release_phase(*ids, reason="They phoned", now=WRONG)
    return [lambda: taking_back.take_back_release(*ids, reason=WHY, now=MENDED)]


def finished(house: House) -> Undo:
    ids = (house.manager, house.project, house.phases["cabinets"])
    starting.finish_phase(*ids, now=WRONG)
    return [lambda: taking_back.take_back_finish(*ids, reason=WHY, now=MENDED)]


def arrived(house: House) -> Undo:
    one = Delivery.get_by_id(house.deliveries["stone"])
    record_arrival(house.office, house.project, one.id, one.version, now=WRONG)
    return [lambda: take_back_arrival(house.office, house.project, one.id, reason=WHY, now=MENDED)]


def lived(box: Mailbox, mistake: Callable[[House], Undo] | None) -> Lived:
    """Both are asked and get that letter; then the mistake, mail, an approval, a visit that moves, mail again; and it
    is taken back."""
    with tempfile.TemporaryDirectory() as folder:
        house = make_house(Path(folder) / "house.db")
        for person in (house.homeowner, house.co_owner):
            about = {"decision": house.decisions[1], "number": 1, "revision": 1}
            notice_rows.add(house.project, person.id, "asked", about, ASKED)
        office = PostOffice(house, box, ASKED)
        assert len(office.send()) == 2, "mail went out before"
        undo = mistake(house) if mistake else []
        office.send(SENT - ASKED)
        grout = house.decisions[2]
        approve(house.homeowner, house.project, grout, revision=1, option="a", name="Maren Okafor", now=SENT)
        move(house, "top", 8)
        assert len(office.tick(60)) >= 2, "both read that the visit moves"
        for take_back in undo:
            take_back()
        waiting = [(one.kind, one.person_id) for one in Notice.select().where(Notice.state == "waiting")]
        office.now = MENDED
        office.tick(60)
        told = Counter((one.kind, one.person_id) for one in Notice.select().where(Notice.state == "sent"))
        assert told.total() == len(office.box.mails), "each is one letter"
        found, line = read_snapshot(house.project), desk_lines.computed(house.project, MENDED + 120)
        dates = tuple((one.finish, one.phases, one.decisions, one.critical_paths)
                      for pure in [schedule_of(found, MENDED + 120)] for one in (pure, as_booked(pure)))  # fmt: skip
        to_do = sorted((one.key, one.due) for one in line.matters if one.kind != "moved")
        plain = replace(found, project=found.project._replace(changed=0, entries=0))
        result = Lived(plain, dates, to_do, sorted(waiting), told, office.send(3_600))
        close_database()
    return result


@pytest.fixture(scope="module")
def without() -> Iterator[Lived]:
    with mailbox() as box:
        yield lived(box, None)


@pytest.mark.parametrize(
    ("mistake", "corrected"),
    [(released_and_started, True), (released, False), (finished, False), (arrived, False)],
)  # fmt: skip
def test_nothing_is_left_of_it_but_one_letter_to_each_who_may_have_read_it(
    without: Lived, box: Mailbox, mistake: Callable[[House], Undo], corrected: bool
) -> None:
    found, people = lived(box, mistake), (House().homeowner.id, House().co_owner.id)
    assert found.snapshot == without.snapshot and found.dates == without.dates
    assert found.snapshot.decision(without.snapshot.decisions[0].id).is_open
    assert found.to_do == without.to_do
    corrections = Counter(("opened_again", person) for person in people) if corrected else Counter()
    reminders = Counter(("reminder", person) for person in people) if corrected else Counter()
    assert Counter(found.waiting) - corrections == Counter(without.waiting)
    assert without.told >= reminders, "they fall due while it is believed"
    assert found.told == without.told - reminders + corrections, "who reads the question again needs no reminder of it"
    assert found.again == without.again == [], "once"
