"""Published critical path examples give exactly the published dates, floats and paths (check-values section 1)."""

import pytest

from tests.published.examples import HILLIER, HILLIER_THREE_POINT, START, figures, hours, length, names, row, solve


def five(table: str, name: str) -> tuple[float, ...]:
    """ES, EF, LS, LF, slack in units of the book."""
    found = row(solve(table), name)
    moments = (found.early_start, found.early_finish, found.late_start, found.late_finish)
    return (*(hours(moment - START) for moment in moments), hours(found.total_float))


TAYLOR = "A 7 -; B 10 -; C 6 A; D 5 B; E 4 B; F 3 C,D; G 2 E,F"


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("A", (0, 7, 2, 9, 2)), ("B", (0, 10, 0, 10, 0)), ("C", (7, 13, 9, 15, 2)), ("D", (10, 15, 10, 15, 0)),
        ("E", (10, 14, 14, 18, 4)), ("F", (15, 18, 15, 18, 0)), ("G", (18, 20, 18, 20, 0)),
    ],
)
def test_e1_seven_activities(name: str, expected: tuple[float, ...]) -> None:
    """E1: B. Taylor, Introduction to Management Science, ch. 8. Arrows 1-2, 1-3, 2-4, 3-4, 3-5, 4-5, 5-6 are A to G."""
    assert five(TAYLOR, name) == expected


def test_e1_finish_and_path() -> None:
    found = solve(TAYLOR)
    assert (length(found), names(found)) == (20, ["B-D-F-G"])


def test_e3_finish_and_path() -> None:
    found = solve(HILLIER)
    assert (length(found), names(found)) == (44, ["A-B-C-E-F-J-L-N"])


def test_e3_floats() -> None:
    found = solve(HILLIER)
    total = {"D": 4, "G": 4, "H": 4, "M": 4, "I": 2, "K": 1}
    free = {"I": 2, "K": 1, "M": 4}
    for name in "ABCDEFGHIJKLMN":
        assert hours(row(found, name).total_float) == total.get(name, 0), name
        assert hours(row(found, name).free_float) == free.get(name, 0), name
        assert row(found, name).critical == (name not in total), name


def test_e3_starts() -> None:
    found = solve(HILLIER)
    early = figures("A0 B2 C6 D16 E16 F20 G22 H29 I16 J25 K33 L33 M38 N38")
    late = {**early, "D": 20, "G": 26, "H": 33, "I": 18, "K": 34, "M": 42}
    for name in early:
        assert hours(row(found, name).early_start - START) == early[name], name
        assert hours(row(found, name).late_start - START) == late[name], name


def test_e4_three_point_means_give_the_same_plan() -> None:
    """E4: the PERT means equal the times of E3 exactly."""
    found, plain = solve(HILLIER_THREE_POINT), solve(HILLIER)
    assert (length(found), names(found)) == (44, ["A-B-C-E-F-J-L-N"])
    assert [phase.expected for phase in found.plan.phases] == [phase.likely for phase in plain.plan.phases]


MCMURTY = "A 3 -; B 4 A; C 3 B; D 10 B; E 8 D; F 4 D; G 6 D; H 8 C,E,F,G; I 5 H; J 5 H; K 4 I; L 2 J; M 4 K,L"


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("B", (3, 7, 3, 7, 0)), ("C", (7, 10, 22, 25, 15)), ("E", (17, 25, 17, 25, 0)), ("F", (17, 21, 21, 25, 4)),
        ("G", (17, 23, 19, 25, 2)), ("H", (25, 33, 25, 33, 0)), ("I", (33, 38, 33, 38, 0)), ("K", (38, 42, 38, 42, 0)),
        ("L", (38, 40, 40, 42, 2)), ("M", (42, 46, 42, 46, 0)),
    ],
)
def test_e8_house_building(name: str, expected: tuple[float, ...]) -> None:
    """E8: "McMurty Construction" teaching case."""
    assert five(MCMURTY, name) == expected


def test_e8_finish_and_path() -> None:
    found = solve(MCMURTY)
    assert (length(found), names(found)) == (46, ["A-B-D-E-H-I-K-M"])


def test_e9_shopping_centre() -> None:
    """E9: Anderson, Sweeney & Williams, Management Science, "Western Hills"."""
    found = solve("A 5 -; B 6 -; C 4 A; D 3 A; E 1 A; F 4 E; G 14 D,F; H 12 B,C; I 2 G,H")
    assert (length(found), names(found)) == (26, ["A-E-F-G-I"])
    finishes = figures("A5 B6 C9 D8 F10 G24 H21 I26")
    assert {name: hours(row(found, name).early_finish - START) for name in finishes} == finishes
    slack = figures("B6 C3 D2 H3")
    assert {name: hours(row(found, name).total_float) for name in slack} == slack
    assert sum(phase.likely for phase in found.plan.phases) == 51 * 60


def test_e10_three_point_path_and_slack() -> None:
    """E10: Wikipedia, Program evaluation and review technique; slack 3.83 and 4.67 to the minute."""
    found = solve("A 2,4,6 -; B 3,5,9 -; C 4,5,7 A; D 4,6,10 A; E 4,5,7 B,C; F 3,4,8 D; G 3,5,8 E")
    assert (length(found), names(found)) == (19.5, ["A-C-E-G"])
    slack = figures("B230 D280 F280")
    assert {name: row(found, name).total_float for name in slack} == slack
    means = figures("A4 B5.33 C5.17 D6.33 E5.17 F4.5 G5.17")
    assert {p.name: round(hours(p.expected), 2) for p in found.plan.phases} == means


def test_e11_both_critical_paths_are_shown() -> None:
    """E11: Wikipedia, Critical path method: both B-C and A-D-F are critical, E has a month of float."""
    found = solve("A 3 -; B 4 -; C 3 B; D 1 A; E 3 A; F 3 D")
    assert length(found) == 7
    assert sorted(names(found)) == ["A-D-F", "B-C"]
    assert hours(row(found, "E").total_float) == 1
    assert found.all_paths_shown


J301_TIMES = "0 8 4 6 3 8 5 9 2 7 9 2 6 3 9 10 6 5 3 7 2 7 2 3 3 7 8 3 7 2 2 0"
J301_SUCCESSORS = (
    "1>2,3,4; 2>6,11,15; 3>7,8,13; 4>5,9,10; 5>20; 6>30; 7>27; 8>12,19,27; 9>14; 10>16,25; 11>20,26; 12>14; 13>17,18; "
    "14>17; 15>25; 16>21,22; 17>22; 18>20,22; 19>24,29; 20>23,25; 21>28; 22>23; 23>24; 24>30; 25>30; 26>31; 27>28; "
    "28>31; 29>32; 30>32; 31>32"
)


def test_e14_psplib_instance() -> None:
    """E14: Kolisch & Sprecher, PSPLIB j301_1: MPM-Time 38; the sum of the durations is the horizon, 158."""
    times = J301_TIMES.split()
    before: dict[str, list[str]] = {}
    for link in J301_SUCCESSORS.split("; "):
        job, successors = link.split(">")
        for successor in successors.split(","):
            before.setdefault(successor, []).append(job)
    table = "; ".join(
        f"{job} {time} {','.join(before.get(str(job), ['-']))}" for job, time in enumerate(times, 1)
    )
    found = solve(table)
    assert (length(found), names(found)) == (38, ["1-3-8-12-14-17-22-23-24-30-32"])
    assert sum(map(int, times)) == 158
