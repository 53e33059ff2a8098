"""The tool that changes code a little and asks the tests: on a made-up package, where what they can tell is plain."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutating.changes import change_at, spots_in
from tests.mutating.explained import explains, explanations

ROOT = Path(__file__).parents[1]
SHED = {
    "yard/__init__.py": "",
    "yard/shed/__init__.py": "",
    "yard/shed/doors.py": (
        "WIDEST = 36  # inches\n\n\n"
        "def fits(width: int) -> bool:\n"
        '    """Whether it goes through."""\n'
        "    return width <= WIDEST\n"
    ),
    "yard/shed/untold.py": "def shelf(height: int) -> int:\n    return height - 2\n",
    "tests/shed/test_doors.py": (
        "from yard.shed.doors import fits\n\n\n"
        "def test_a_wheelbarrow_fits_and_a_cart_does_not():\n"
        "    assert [fits(35), fits(36), fits(37)] == [True, True, False]\n"
    ),
    "tests/shed/test_untold.py": (
        "from yard.shed.untold import shelf\n\n\ndef test_a_shelf_has_a_height():\n    assert shelf(40) > 1\n"
    ),
    "pyproject.toml": "[tool.pytest.ini_options]\nfilterwarnings = ['error']\n",
}


def _lay_down(folder: Path, **changed: str) -> None:
    for name, text in (SHED | changed).items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text)


def _mutants(folder: Path, *arguments: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-m", "tests.mutating", "shed", "--folder", "yard", *arguments],
        cwd=folder, env=os.environ | {"PYTHONPATH": str(ROOT)}, capture_output=True, text=True,
    )  # fmt: skip


def _every_change(path: Path) -> set[tuple[str, str]]:
    return {(made.before, made.after) for made in map(change_at, spots_in(path)) if made is not None}


@pytest.fixture(scope="module")
def ran(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, "subprocess.CompletedProcess[str]"]:
    folder = tmp_path_factory.mktemp("yard")
    _lay_down(folder)
    return folder, _mutants(folder)


def test_what_a_test_can_tell_is_killed(ran: tuple[Path, "subprocess.CompletedProcess[str]"]) -> None:
    _, answer = ran
    told = [line for line in answer.stderr.splitlines() if "doors.py" in line]
    assert len(told) == 3  # the constant, the comparison, what is returned
    assert all("test_a_wheelbarrow_fits_and_a_cart_does_not" in line for line in told)


def test_what_no_test_can_tell_survives_and_is_shown(ran: tuple[Path, "subprocess.CompletedProcess[str]"]) -> None:
    _, answer = ran
    assert "yard/shed/untold.py:2\n    return height - 2\n    -> return height + 2\n" in answer.stdout
    assert "yard/shed/untold.py:2\n    return height - 2\n    -> return height - 3\n" in answer.stdout
    assert "return None" not in answer.stdout
    assert answer.stdout.splitlines()[-1].startswith("shed: killed 4 of 6, seed 1,")
    assert answer.returncode == 1


def test_nothing_is_written_into_the_tree(ran: tuple[Path, "subprocess.CompletedProcess[str]"]) -> None:
    folder, _ = ran
    assert {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()} == set(SHED)


def test_a_change_that_never_ends_is_killed(tmp_path: Path) -> None:
    waits = "def wait(turns: int) -> int:\n    while turns > 0:\n        turns -= 1\n    return turns\n"
    test = "from yard.shed.doors import wait\n\n\ndef test_it_waits():\n    assert wait(3) == 0\n"
    _lay_down(tmp_path, **{"yard/shed/doors.py": waits, "tests/shed/test_doors.py": test})
    answer = _mutants(tmp_path, "--count", "4")
    assert "the run did not come to an end" in answer.stderr


def test_tests_that_fail_without_a_change_judge_none(tmp_path: Path) -> None:
    broken = "def test_nothing_holds():\n    assert [] == [1]\n"
    _lay_down(tmp_path, **{"tests/shed/test_doors.py": broken})
    answer = _mutants(tmp_path)
    assert answer.returncode == 1
    assert "shed: its tests do not pass as it is" in answer.stdout
    assert "killed" not in answer.stdout


def test_the_seed_alone_says_which_changes_are_made(tmp_path: Path) -> None:
    _lay_down(tmp_path)
    runs = [_mutants(tmp_path, "--count", "2", "--seed", seed).stderr for seed in ("5", "5", "6")]
    places = [[line.split(": ")[1] for line in said.splitlines() if " of 2: " in line] for said in runs]
    assert places[0] == places[1]
    assert len(places[2]) == 2


def test_each_way_of_being_a_little_wrong_is_tried(tmp_path: Path) -> None:
    source = tmp_path / "source.py"
    source.write_text(
        "def work(a, b=3, *, deep=True):\n"
        '    """Says nothing 7 times."""\n'
        "    if a < b and not deep:\n"
        "        record(a)\n"
        "    return sorted(max(a, b), key=b)[1:]\n"
        "def read():\n"
        "    return query('SELECT day, name FROM visit ORDER BY day DESC')\n"
    )
    changes = _every_change(source)
    assert {
        ("3", "4"),
        ("True", "False"),
        ("a < b and (not deep)", "a <= b and (not deep)"),
        ("a < b and (not deep)", "a < b or not deep"),
        ("a < b and (not deep)", "a < b and deep"),
        ("a < b and (not deep)", "True"),
        ("record(a)", "pass"),
        ("return sorted(max(a, b), key=b)[1:]", "return None"),
        ("return sorted(max(a, b), key=b)[1:]", "return sorted(min(a, b), key=b)[1:]"),
        ("return sorted(max(a, b), key=b)[1:]", "return sorted(max(a, b), key=b, reverse=True)[1:]"),
        ("return sorted(max(a, b), key=b)[1:]", "return sorted(max(a, b), key=b)[2:]"),
        ("return sorted(max(a, b), key=b)[1:]", "return sorted(max(a, b), key=b)[:]"),
    } <= changes
    queries = {after for before, after in changes if "SELECT day, name" in before}
    assert any("SELECT name, day FROM" in query for query in queries)
    assert not any("Says nothing" in before for before, _ in changes)


def test_a_survivor_that_is_explained_is_known_by_file_and_text(tmp_path: Path) -> None:
    told = tmp_path / "explained.toml"
    told.write_text('[[survivor]]\nfile = "a.py"\nbefore = "x < 1"\nafter = "x <= 1"\nwhy = "x is never 1: [0, 2]"\n')
    source = tmp_path / "a.py"
    source.write_text("x < 1\n")
    changes = [change_at(spot) for spot in spots_in(source)]
    known = [made.after for made in changes if made and explains(explanations(told), made, tmp_path)]
    assert known == ["x <= 1"]


def test_every_explanation_names_a_change_that_can_still_be_made() -> None:
    for told in explanations():
        assert (told.before, told.after) in _every_change(ROOT / told.file), f"{told.file}: {told.before}"
