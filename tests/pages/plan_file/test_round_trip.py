"""The plan as a file comes back as it went out; other readers find the same in it, and no formula."""

import csv
import io
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook

from portal.pages.plan_file.cells import guarded, unguarded
from portal.pages.plan_file.lines import sheet_of
from portal.pages.plan_file.making import as_csv, as_xlsx, plan_rows
from portal.pages.plan_file.reading import rows_of
from portal.store.engine.database import close_database
from portal.store.facts import PhaseFact, RoomFact, Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.words.typed import line
from tests.house import House, make_house

TODAY = date(2026, 12, 2)
DANGEROUS = ("=1+1", "+1", "-1", "@SUM(A1)", "'quoted", "=HYPERLINK(\"http://example.com\")", " spaced ", "a,b;c\"d")
names = st.one_of(
    st.sampled_from(DANGEROUS),
    st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), min_size=1, max_size=20),
).map(line).filter(lambda text: text.strip() != "")


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Snapshot]:
    """The questions of the invented house; its plan is another each time."""
    house = make_house(tmp_path_factory.mktemp("kept") / "portal.db")
    yield read_snapshot(house.project)
    close_database()


def _minutes() -> st.SearchStrategy[int]:
    return st.integers(0, 100_000)


@st.composite
def plans(draw: Any, snapshot: Snapshot) -> Snapshot:
    """Plans with names that spreadsheet programs would compute, and with each minute."""
    found = draw(st.lists(names, min_size=1, max_size=6, unique_by=lambda text: " ".join(text.split()).casefold()))
    rooms = (RoomFact(1, "Kitchen", []), RoomFact(2, "=Bath", []))
    phases = []
    for at, name in enumerate(found):
        work = sorted(draw(st.tuples(_minutes(), _minutes(), _minutes())))
        befores = draw(st.sets(st.integers(0, at - 1), max_size=3)) if at else set()
        phases.append(PhaseFact(
            at, name, draw(st.sampled_from([None, 1, 2])), draw(st.sampled_from(["", "-Plumber", "Tile setter"])),
            *work, draw(st.none() | st.just(date(2026, 12, 8))), "waiting", None, None, None, "", [],
            after=tuple((one, draw(_minutes())) for one in sorted(befores)),
            held_by=tuple(draw(st.sets(st.sampled_from([one.id for one in snapshot.decisions]), max_size=2))),
        ))  # fmt: skip
    return replace(snapshot, rooms=rooms, phases=tuple(phases))


def told(snapshot: Snapshot) -> list[Any]:
    """What a sheet tells of each phase, by names."""
    return [
        (one.name, one.room_id, one.crew, one.work_low, one.work_likely, one.work_high, one.not_before,
         {(snapshot.phase(before).name, wait) for before, wait in one.after},
         {snapshot.decision(held).number for held in one.held_by})
        for one in snapshot.phases
    ]  # fmt: skip


def read_back(data: bytes, snapshot: Snapshot) -> list[Any]:
    sheet = sheet_of(rows_of(data), snapshot, TODAY)
    assert sheet.faults == {}
    name = {one.number: one.name for one in sheet.lines}
    return [
        (one.name, one.room, one.crew, *one.work, one.not_before, {(name[before], wait) for before, wait in one.after},
         set(one.held_by))
        for one in sheet.lines
    ]  # fmt: skip


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_each_plan_comes_back_as_it_went_out(kept: Snapshot, data: Any) -> None:
    snapshot = data.draw(plans(kept))
    rows = plan_rows(snapshot)
    for file in (as_csv(rows), as_xlsx(rows)):
        assert read_back(file, snapshot) == told(snapshot)


def test_other_readers_find_the_same_and_no_formula(house: House) -> None:
    """The csv module of Python, and openpyxl in its other mode, which knows styles and types."""
    snapshot = read_snapshot(house.project)
    rows = plan_rows(snapshot)
    assert list(csv.reader(io.StringIO(as_csv(rows).decode("utf-8-sig"), newline=""))) == rows
    sheet = load_workbook(io.BytesIO(as_xlsx(rows)))["Plan"]
    cells = [["" if cell.value is None else cell.value for cell in row] for row in sheet.iter_rows()]
    assert [[f"{one:g}" if isinstance(one, int | float) else one for one in row] for row in cells] == rows
    assert {cell.data_type for row in sheet.iter_rows() for cell in row if cell.value is not None} <= {"s", "n"}


def test_no_cell_that_goes_out_begins_like_a_formula() -> None:
    for text in (*DANGEROUS, "\ttab", "\rreturn", "\nline"):
        assert guarded(text)[0] not in "=+-@\t\r\n"
        assert unguarded(guarded(text)).text == text
        assert not unguarded(guarded(text)).formula


def test_what_comes_in_behind_a_tab_or_a_line_break_is_a_formula_too() -> None:
    """Some programs pass over these, and compute what follows (OWASP, CSV Injection)."""
    for sign in ("\t", "\r", "\n"):
        assert unguarded(f"{sign}1+1").formula


def test_a_name_that_reads_like_the_error_of_a_cell_is_a_text() -> None:
    sheet = load_workbook(io.BytesIO(as_xlsx([["Phase"], ["#N/A"]])))["Plan"]
    assert (sheet["A2"].value, sheet["A2"].data_type) == ("#N/A", "s")
