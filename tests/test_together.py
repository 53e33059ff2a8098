"""What is laid down once is used on one worker, and all else is dealt out."""

from tests.together import scope_of


def test_tests_of_one_wheel_or_one_database_server_stay_together() -> None:
    wheel = "tests/deploy/test_wheel.py"
    assert {scope_of(f"{wheel}::test_one"), scope_of(f"{wheel}::test_two[a::b]")} == {wheel}
    ours = "again.py::acts/crews/test_crews.py::test_one", "test_at_once.py::test_two"
    assert len({scope_of(f"tests/postgresql/{one}") for one in ours}) == 1


def test_all_others_are_dealt_out_one_by_one() -> None:
    alone = "tests/test_together.py::test_one"
    assert scope_of(alone) == alone
    assert scope_of("tests/browser/test_manager.py::test_one[way]") == "tests/browser/test_manager.py::test_one[way]"
