"""Where a sentence ends."""

from portal.words.stops import stopped_once


def test_what_ends_in_quotation_marks_ends_its_sentence() -> None:
    assert stopped_once("He asked: “Does it stain?”. We said: “No!”. Then “Grout.” and “tile”. “Dry.”. 1.5?") == (
        "He asked: “Does it stain?” We said: “No!” Then “Grout.” and “tile”. “Dry.” 1.5?"
    )
