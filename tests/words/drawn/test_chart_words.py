"""What the plan week by week and the curve of a late answer say."""

from datetime import date

from portal.words.drawn import chart_words as said

MON, TUE, SUN = date(2026, 11, 30), date(2026, 12, 1), date(2026, 12, 6)


def test_a_week_is_named_by_its_days_and_the_year_of_its_last() -> None:
    assert said.week_title(MON, SUN) == "Mon Nov 30 to Sun Dec 6, 2026"
    assert said.week_title(date(2026, 12, 28), date(2027, 1, 3)) == "Mon Dec 28 to Sun Jan 3, 2027"
    assert said.plan_for("Mon Nov 30") == "Plan for Mon Nov 30"


def test_a_block_says_the_phase_and_its_state_or_that_one_only_waits() -> None:
    assert said.block("Tile", "", only_wait=False) == "Tile"
    assert said.block("Tile", "late", only_wait=False) == "Tile, late"
    assert said.block("Tile", "late", only_wait=True) == "Tile: wait"


def test_a_phase_says_its_days_its_state_and_the_wait_after_it() -> None:
    assert said.stretch("Tile", MON, MON, "", None) == "Tile, Mon Nov 30"
    assert said.stretch("Tile", MON, TUE, "late", SUN) == (
        "Tile, Mon Nov 30 to Tue Dec 1, late, then a wait until Sun Dec 6")
    assert said.room("Kitchen", ["Tile, Mon Nov 30", said.mark("answer by: grout", TUE)]) == (
        "Kitchen: Tile, Mon Nov 30; answer by: grout, Tue Dec 1.")


def test_the_curve_says_each_step_and_both_dates() -> None:
    assert said.answer_on(MON, TUE, SUN) == "Answer on Mon Nov 30 to Tue Dec 1: the finish is Sun Dec 6."
    assert said.needed_by(TUE, past=False) == "Needed by Tue Dec 1 to keep the booked days."
    assert said.needed_by(TUE, past=True) == "Needed by Tue Dec 1, which is past, to keep the booked days."
    assert said.latest_by(SUN) == "Latest by Sun Dec 6 to keep the finish."


def test_the_lines_of_the_dates_are_named_beside_them() -> None:
    assert (said.mark_needed(MON), said.mark_latest(TUE)) == ("needed by Mon Nov 30", "latest by Tue Dec 1")
    assert said.past(said.mark_both(MON)) == "needed and latest by Mon Nov 30 (past)"
    assert (said.TODAY, said.FINISH, said.DAY_OF_ANSWER) == ("today", "finish", "day of your answer")
    assert said.LATE_TITLE == "The finish date, by the day of your answer"


def test_a_row_of_the_plan_says_its_days_and_its_name_is_cut_but_not_its_state() -> None:
    assert said.plan_row("Tile", "waits", MON, TUE, SUN) == (
        "Tile, Mon Nov 30 to Tue Dec 1, waits, then a wait until Sun Dec 6.")
    assert said.plan_name("Set the tile", "waits", 19) == "Set the tile, waits"
    assert said.plan_name("Set the tile", "waits", 18) == "Set the ti…, waits"
    assert said.plan_name("Set the tile", "", 8) == "Set the…"
