"""A caution can be read on the way to the work, and leaves the last word to rules and licensed people."""

import pytest

from tests.content.reading import count, sentences
from tests.content.written import Written, plain, written

TOPICS = {"stone_dust", "lifting", "adhesives", "water", "gas", "electricity", "old_paint", "ladders_and_floor"}

every_caution = pytest.mark.parametrize("piece", written("cautions"), ids=lambda piece: piece.path.stem)


def test_every_danger_of_the_work_has_its_caution() -> None:
    assert {piece.path.stem for piece in written("cautions")} >= TOPICS


@every_caution
def test_a_caution_has_two_to_four_sentences_and_at_most_seventy_words(piece: Written) -> None:
    assert 2 <= len(sentences(plain(piece.body))) <= 4
    assert count(plain(piece.body)).words <= 70


@every_caution
def test_a_caution_is_plain_paragraphs_for_the_drilling_sheet(piece: Written) -> None:
    assert list(piece.sections) == ["", "Sources"]
    assert piece.body and "\n" not in piece.body and piece.links == []


@pytest.mark.parametrize("topic", ["water", "gas", "electricity"])
def test_work_that_needs_a_licence_is_left_to_those_who_have_one(topic: str) -> None:
    body = next(piece.body for piece in written("cautions") if piece.path.stem == topic)
    assert "licensed" in body and "ocal code" in body
