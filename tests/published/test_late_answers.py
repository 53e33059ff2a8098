"""The late answer identity on a published example (check-values 1.2, derived from E3)."""

import pytest

from portal.planning.schedule.critical_path import schedule
from portal.planning.schedule.plan import Plan
from tests.published.examples import ALWAYS, HILLIER, START, number, read_table, row, solve


@pytest.mark.parametrize(
    ("name", "delay", "finish"),
    [("D", 4, 44), ("D", 6, 46), ("I", 2, 44), ("I", 3, 45), ("K", 1, 44), ("K", 2, 45), ("E", 1, 45)],
)
def test_e3_a_delay_moves_the_finish_by_what_exceeds_the_float(name: str, delay: int, finish: int) -> None:
    """Hillier & Lieberman, "Reliable Construction Co.": the finish moves by max(0, d - TF)."""
    on_time = solve(HILLIER)
    start = row(on_time, name).early_start + delay * 60
    phases = tuple(
        type(phase)(phase.id, phase.name, phase.low, phase.likely, phase.high, after=phase.after, not_before=start)
        if phase.id == number(name) else phase
        for phase in read_table(HILLIER).phases
    )
    late = schedule(Plan(phases, ALWAYS, START), START)
    assert (late.finish - START) / 60 == finish
    assert finish == 44 + max(0, delay - row(on_time, name).total_float // 60)
