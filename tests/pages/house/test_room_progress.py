"""How far each room is: its words, its picture, its rule; and when all is done."""

from datetime import date
from xml.etree import ElementTree as ET

import pytest

from portal.drawings.vignettes.folding_rule import DONE, HELD, NOW, OPEN
from portal.pages.house.phase_lines import PhaseLine
from portal.pages.house.room_progress import far_words, parts_of
from portal.planning.household.services import Service
from portal.store import tables
from tests.house import NOW as NOW_SECONDS
from tests.house import House, at
from tests.pages.house.drawing import SVG
from tests.pages.reading import Page, page_of, words_of

TODAY = date(2026, 12, 2)


def _lines(**phases: str) -> list[PhaseLine]:
    return [PhaseLine(name.replace("_", " "), state, state) for name, state in phases.items()]


@pytest.mark.parametrize(
    ("states", "words"),
    [
        ([DONE, DONE], "done"), ([DONE, NOW, OPEN], "1 of 3 done"), ([NOW, OPEN], "0 of 2 done"),
        ([HELD, OPEN], "starts Mon Dec 7"), ([], "starts Mon Dec 7"),
    ],
)
def test_a_room_says_how_far_it_is(states: list[str], words: str) -> None:
    lines = [PhaseLine(f"Phase {at}", state, state) for at, state in enumerate(states)]
    assert far_words(lines, date(2026, 12, 7), TODAY) == words


def test_a_part_stands_as_far_as_the_phases_are_that_make_it() -> None:
    lines = _lines(Set_the_splash_tile=DONE, Grout_the_splash=HELD, Set_the_base_cabinets=NOW, Paint_it=OPEN)
    assert parts_of(lines, []) == {"splash": 0.5, "cabinets": 0.5, "paint": 0}


def test_what_the_household_uses_stands_while_it_can_be_used() -> None:
    """Old or new: a sink that works stands, whatever is still to be connected."""
    things = [
        (Service("sink"), False), (Service("cooktop"), True), (Service("cooktop", "hot plate"), True),
        (Service("way_through", "back door"), True), (Service("power"), True), (Service("bath", "shower"), False),
    ]
    lines = _lines(Set_the_stone_top=DONE, Connect_the_sink=HELD)
    assert parts_of(lines, things) == {"top": 1, "sink": 0, "cooktop": 1, "door": 1, "shower": 0}


@pytest.mark.parametrize(
    ("phase", "part"), [("Set_the_cabinets", "sink"), ("Hang_the_vanity", None), ("Paint_it", "tub-sink")]
)
def test_a_sink_stands_where_the_room_has_a_place_for_it(phase: str, part: str | None) -> None:
    parts = parts_of(_lines(**{phase: OPEN}), [(Service("sink"), True)])
    assert [one for one in ("sink", "tub-sink") if one in parts] == ([part] if part else [])


def test_pipes_are_drawn_until_they_are_done_and_hidden() -> None:
    assert "rough" in parts_of(_lines(Rough_plumbing=NOW), [])
    assert parts_of(_lines(Rough_plumbing=DONE), []) == {}


def _rows(page: Page) -> list[str]:
    [section] = [one for one in page.root.iter() if one.get("id") == "done"]
    return ["".join(summary.itertext()).strip() for summary in section.iter("summary")]


def test_rooms_come_in_their_order_and_the_house_last(house: House) -> None:
    assert _rows(page_of(house)) == [
        "Kitchen, 3 of 9 done", "Hall bath, 1 of 3 done", "Laundry room, starts Wed\u00a0Dec\u00a09",
        "All done Mon\u00a0Dec\u00a014",
    ]


def test_each_room_has_its_picture_its_rule_and_a_line_a_phase(house: House) -> None:
    [kitchen] = [one for one in page_of(house).root.iter("details") if words_of(one).startswith("Kitchen")]
    looks = [one.get("class") for one in kitchen.iter(f"{SVG}svg")]
    assert looks == ["vig", "strip"]
    states = [item.get("class") for item in kitchen.iter("li")]
    assert states == [DONE, DONE, DONE, NOW, HELD, HELD, OPEN, HELD, HELD]
    assert "Set the base cabinets: under way, until Wed\u00a0Dec\u00a02" in "".join(kitchen.itertext())


def test_a_room_of_which_nothing_can_be_drawn_starts_at_its_name(house: House) -> None:
    tables.Room.update(services=[]).execute()
    for phase in tables.Phase.select():
        tables.Phase.update(name=f"Look around {phase.id}").where(tables.Phase.id == phase.id).execute()
    page = page_of(house)
    assert {one.get("class") for one in page.root.iter(f"{SVG}svg")} & {"vig"} == {"vig"}  # that of the whole house
    [kitchen] = [one for one in page.root.iter("details") if words_of(one).startswith("Kitchen")]
    assert [one.get("class") for one in kitchen.iter(f"{SVG}svg")] == ["strip"]


def test_rooms_without_work_are_left_out(house: House) -> None:
    tables.Room.create(project=house.project, name="Attic", position=9)
    assert not [row for row in _rows(page_of(house)) if row.startswith("Attic")]


def test_a_late_finish_is_red_and_says_so(house: House) -> None:
    tables.Project.update(promised_on=date(2026, 12, 4)).execute()
    page = page_of(house)
    *_, last = _rows(page)
    assert "promised Fri\u00a0Dec\u00a04, 10 days late" in last
    [house_row] = [one for one in page.root.iter("summary") if "All done" in "".join(one.itertext())]
    assert [words_of(one) for one in house_row.iter("span") if one.get("class") == "late"]


def test_the_house_is_solid_once_all_is_done(house: House) -> None:
    before = page_of(house).html
    tables.Phase.update(state="done", started_at=at("2026-11-16T08:00"), finished_at=NOW_SECONDS).execute()
    after = page_of(house)
    assert 'class="hid" d="M14 70V34' in before and 'class="hid" d="M14 70V34' not in after.html
    assert _rows(after) == [
        "Kitchen, done", "Hall bath, done", "Laundry room, done",
        "All done Wed\u00a0Dec\u00a02",
    ]


def test_every_picture_of_the_page_is_well_formed(house: House) -> None:
    html = page_of(house).html
    drawings = [piece.split("</svg>")[0] + "</svg>" for piece in html.split("<svg")[1:]]
    assert len(drawings) > 15
    for one in drawings:
        ET.fromstring(f"<svg{one}")
