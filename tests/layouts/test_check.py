"""A check in one sentence: numbers that a reader can follow."""

from portal.layouts.check import AT_LEAST, Check, check
from portal.layouts.layout import verdict
from portal.layouts.length import Length


def _of(measured: str, required: str) -> Check:
    return check("hole to hole", "A and B", Length.parse(measured), AT_LEAST, Length.parse(required))


def test_a_failure_that_a_rule_does_not_show_is_told_in_millimeters() -> None:
    close = _of("2-5/8 in", "66.7 mm")
    assert close.sentence == "hole to hole, A and B: 66.675 mm, at least 66.7 mm: fails"
    assert verdict((close,), "").endswith("fails, by 0.025 mm.")
    assert close.to_json()["measured"] == {"text": "66.675 mm", "mm": 66.675}


def test_what_a_rule_shows_is_told_as_on_the_rule() -> None:
    assert _of("2-1/2 in", "2-5/8 in").sentence == "hole to hole, A and B: 2-1/2 in, at least 2-5/8 in: fails"
    assert _of("2-1/2 in", "2-5/8 in").lacks == "1/8 in"
    assert _of("2-5/8 in", "66.6 mm").sentence == "hole to hole, A and B: 2-5/8 in, at least about 2-5/8 in: passes"
