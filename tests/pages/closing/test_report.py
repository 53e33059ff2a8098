"""The closing report says what was done, approved, paid and left, and reads back from the PDF."""

import io
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import pytest
from pypdf import PdfReader

from portal.drawings.sheets.paper import Paper
from portal.drawings.writers.report import Report, ReportSection
from portal.drawings.writers.report_pdf import report_pdf
from portal.pages.closing.report import closing_report
from portal.pages.without_sums import without_sums
from portal.store.facts import Snapshot
from portal.store.reading.finish.moves import moved_finish
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House


def report_of(snapshot: Snapshot) -> dict[str, tuple[str, ...]]:
    made = closing_report(snapshot, moved_finish(snapshot, schedule_of(snapshot, NOW)), NOW)
    return {one.heading: one.lines for one in made.sections}


def read(data: bytes) -> str:
    return " ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)


def done(snapshot: Snapshot, **changed: Any) -> Snapshot:
    """As it stands, with every phase finished two days before the promise."""
    ended = int(datetime(2026, 12, 22, 21, tzinfo=UTC).timestamp())
    phases = tuple(
        replace(one, started_at=one.started_at or ended - 3600, finished_at=ended) for one in snapshot.phases
    )
    project = snapshot.project._replace(promised_on=date(2026, 12, 24), closed_at=ended, **changed)
    return replace(snapshot, phases=phases, project=project)


def test_each_phase_stands_with_its_room_and_days_and_each_crew_with_what_it_did(house: House) -> None:
    snapshot = done(read_snapshot(house.project))
    said = report_of(snapshot)
    assert len(said["What was done"]) == len(snapshot.phases)
    for phase in snapshot.phases:
        assert any(phase.name in line for line in said["What was done"])
        assert any(line.startswith(f"{phase.crew}: ") and phase.name in line for line in said["Who did it"])


def test_what_was_not_done_says_so(house: House) -> None:
    lines = report_of(read_snapshot(house.project))["What was done"]
    assert any(line.endswith(", not done.") for line in lines)
    assert any("not finished" in line for line in lines)


@pytest.mark.parametrize(
    ("promised", "words"),
    [
        (date(2026, 12, 24), "promised was Thu Dec 24, 2 days later"),
        (date(2026, 12, 22), "that was the promised day"),
        (date(2026, 12, 21), "promised was Mon Dec 21, 1 day earlier"),
    ],
)
def test_the_end_stands_against_the_promise(house: House, promised: date, words: str) -> None:
    snapshot = done(read_snapshot(house.project))
    lines = report_of(replace(snapshot, project=snapshot.project._replace(promised_on=promised)))["How the dates held"]
    assert words in lines[0]


def test_who_reads_no_sums_gets_none(house: House) -> None:
    snapshot = done(read_snapshot(house.project), contract_cents=4_860_000)
    with_sums, blind = report_of(snapshot), report_of(without_sums(snapshot))
    assert "$48,600" in str(with_sums) and "$" not in str(blind)
    assert blind["Price"] != with_sums["Price"]


def test_it_reads_back_from_paper_of_both_kinds(house: House) -> None:
    made = closing_report(done(read_snapshot(house.project)), moved_finish(
        read_snapshot(house.project), schedule_of(read_snapshot(house.project), NOW)), NOW)
    for paper in Paper:
        text = " ".join(read(report_pdf(made, paper)).split())
        for section in made.sections:
            assert section.heading in text
        assert made.sections[0].lines[0] in text and "page 1 of " in text


def test_what_people_typed_is_text_and_the_same_input_gives_the_same_bytes() -> None:
    odd = "A <b>scratch</b> & “Tür” <img src=x> " + "x" * 300
    report = Report("A title", ("Here",), (ReportSection("Odd", (odd,) * 120),), "Brackwater, 218-555-0142")
    data = report_pdf(report)
    assert data == report_pdf(report)
    assert "<b>scratch</b> & “Tür” <img" in read(data)
    assert len(PdfReader(io.BytesIO(data)).pages) > 2
