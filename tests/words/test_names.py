"""Whose name stands on a paper: as people write their own, and not as another of the family."""

import pytest

from portal.words.names import resembles


@pytest.mark.parametrize(
    "signed",
    ["Maren Okafor", "maren okafor", "M. Okafor", "Okafor, Maren", "Maren O.", "Maren", "Maren Lind Okafor",
     "Maren Okafer", "MAREN OKAFOR-LIND"],
)
def test_people_write_their_name_in_many_ways(signed: str) -> None:
    assert resembles(signed, "Maren Okafor")


@pytest.mark.parametrize("signed", ["Jonas Okafor", "J. Okafor", "Okafor", "Maren Sorensen", "M. O.", "x", "…"])
def test_another_of_the_family_is_another(signed: str) -> None:
    assert not resembles(signed, "Maren Okafor")


@pytest.mark.parametrize(("signed", "name"), [("ZOË O’BRIEN", "Zoe O'Brien"), ("Soren Ostergard", "Sören Östergård")])
def test_marks_and_capitals_make_no_other_name(signed: str, name: str) -> None:
    assert resembles(signed, name)


def test_a_person_of_one_name_signs_with_it() -> None:
    assert resembles("Sukarno", "Sukarno") and not resembles("Suharto", "Sukarno")
