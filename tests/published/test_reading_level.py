"""The reading formulas against published counts and scores.

Flesch (1948) and Kincaid et al. (1975), the formulas; textstat's own tests assert 83.32 and 2.88 for the sentence of
five words; the platypus sentence is the well-known sample of 24 syllables (an older text says 26, which is wrong).
"""

import pytest

from tests.content.reading import Counts, count, ease, grade

PUBLISHED = [
    (Counts(6, 1, 6), 116.145, -1.45),
    (Counts(13, 1, 24), 37.455, 11.265),
    (Counts(16, 1, 23), 68.983, 7.613),
    (Counts(16, 1, 24), 63.695, 8.35),
    (Counts(5, 1, 7), 83.32, 2.88),
]
SAMPLES = [
    ("The cat sat on the mat.", Counts(6, 1, 6)),
    ("Cool dogs wear da sunglasses.", Counts(5, 1, 7)),
    ("The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.", Counts(13, 1, 24)),
]


@pytest.mark.parametrize(("counts", "reading_ease", "school_grade"), PUBLISHED)
def test_the_formulas_give_the_published_scores(counts: Counts, reading_ease: float, school_grade: float) -> None:
    assert ease(counts) == pytest.approx(reading_ease, abs=0.005)
    assert grade(counts) == pytest.approx(school_grade, abs=0.005)


@pytest.mark.parametrize(("text", "counts"), SAMPLES)
def test_the_published_samples_are_counted_as_published(text: str, counts: Counts) -> None:
    assert count(text) == counts
