"""The numbers beside a drawing: letters, places from named edges, and the checks that a crew should read."""

import pytest

from portal.drawings.scenes.coordinates import Coordinates, letter, marks_coordinates, tightest
from portal.layouts.check import AT_LEAST, GEOMETRY, GIVEN, Check, Measure, check
from portal.layouts.layout import Mark
from portal.layouts.length import Length


def of(name: str, measured: str, required: str, source: str = GIVEN) -> Check:
    what = Measure("deck.hole-to-hole", name)
    return check(what, "A", Length.parse(measured), AT_LEAST, Length.parse(required), source)


@pytest.mark.parametrize(("index", "mark"), [(0, "A"), (25, "Z"), (26, "AA"), (27, "AB"), (51, "AZ"), (52, "BA")])
def test_letters_go_on_after_z(index: int, mark: str) -> None:
    assert letter(index) == mark


def test_what_fails_stands_first_then_what_has_the_least_to_spare_by_whose_limit_it_passes() -> None:
    said = tightest([of("wide", "9 in", "1 in"), of("close", "2 in", "1 in", "a sheet"), of("fails", "1 in", "2 in"),
                     of("tight", "1-1/8 in", "1 in")])
    assert said == (
        "Fails, A: 1 in, at least 2 in: fails (limit: the makers' sheets, as entered).",
        ("Passes, by the limits of the makers' sheets, as entered: tight, A 1-1/8 in (at least 1 in); "
         "wide, A 9 in (at least 1 in)."),
        "Passes, by the limits of a sheet: close, A 2 in (at least 1 in).")


def test_what_passes_because_it_is_not_below_zero_tells_nothing_and_what_fails_so_does() -> None:
    assert tightest([of("free", "1 in", "0 in", GEOMETRY)]) == ()
    below = Check(Measure("deck.hole-to-hole", "free"), "A", -1.0, 0.0, source=GEOMETRY)
    assert tightest([below]) == ("Free, A: 1 mm past it, at least 0 mm: fails (limit: the sizes themselves).",)


def test_six_checks_at_most_are_told_and_how_many_more_pass() -> None:
    many = [of(f"check {number}", f"{number} in", "1 in") for number in range(2, 12)]
    said, more = tightest(many)
    assert said.count("(at least 1 in)") == 6 and "check 7" in said and "check 8" not in said
    assert more == "And 4 more pass: they stand on the page."
    assert tightest(many[:7])[1] == "And 1 more passes: it stands on the page." and len(tightest(many[:6])) == 1


def test_every_check_that_fails_is_told_also_where_there_are_more_than_six() -> None:
    many = [of(f"check {number}", f"{number} in", "20 in") for number in range(2, 10)]
    *failed, more = tightest([*many, of("wide", "90 in", "20 in")])
    assert len(failed) == 8 and all("fails" in said for said in failed) and more.startswith("And 1 more passes")


def test_marks_become_rows_from_their_named_edge_in_both_systems() -> None:
    table = marks_coordinates([Mark("seam 1", "left end", Length.parse("74 in"))], [of("tight", "2 in", "1 in")])
    assert table.columns == ("Mark", "Measured from", "Distance")
    assert table.rows == (("seam 1", "left end", "74 in (1879.6 mm)"),)
    assert table.measured_from == "" and table.checks[0].startswith("Passes")


def test_a_table_says_to_measure_the_piece_unless_it_says_more() -> None:
    assert Coordinates((), (), "").first == ("Measure the piece, and each distance from its edges, yourself.",)
