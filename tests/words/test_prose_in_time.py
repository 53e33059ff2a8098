"""Whatever is written becomes HTML in a number of steps that its length bounds, or is refused in a sentence.

Steps are counted, not timed: calls of the converter, and letters that it looks through after a bracket. Times of the
same texts: `python -m tests.bench.bench_prose`.
"""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from portal.words.prose import MOST_LINES, TooTangled, html_of, plain_of, prose
from tests.words.steps import Steps, counting
from tests.words.tangled import TANGLED, repeated

LONGEST = 20_000
_CALLS = 80  # a letter, of which a backslash before each takes 16; the most is for brackets that never end
_LOOKED = 4_000_000


@contextmanager
def counted() -> Iterator[Steps]:
    with counting() as steps:
        yield steps
    assert steps.calls <= _CALLS * LONGEST, steps
    assert steps.letters <= _LOOKED, steps


@pytest.mark.parametrize("unit", TANGLED)
def test_no_text_takes_more_steps_than_its_length_allows(unit: str) -> None:
    """The longest text that a field takes, of nothing but one mark."""
    with counted():
        try:
            html_of(repeated(unit, LONGEST))
        except TooTangled as refusal:
            assert str(refusal)[-1] == "."


@pytest.mark.parametrize("unit", ["[", "a[", "![", "[a](", "[a](b", "[a](<", '[a](b "', "[a]["])
def test_brackets_that_are_still_looked_after_keep_within_the_bound(unit: str) -> None:
    """As many as may be in one paragraph of that length, and none of them ends."""
    for length in (LONGEST, LONGEST // 20):
        many = 499_999 // length // unit.count("[")
        with counted():
            html_of((unit * many)[:length] + "x" * (length - len(unit) * many))


def test_more_lines_than_anybody_writes_are_refused_with_what_to_do() -> None:
    assert html_of("a\n" * (MOST_LINES - 1)).count("a") == MOST_LINES - 1
    with pytest.raises(TooTangled, match="This has 1001 lines. Use at most 1000."):
        html_of("a\n" * MOST_LINES)


@pytest.mark.parametrize("deep", ["> ", "1. ", "- ", "* "])
def test_what_stands_too_deep_in_itself_is_refused_with_what_to_do(deep: str) -> None:
    assert "here" in html_of(deep * 8 + "here")
    with pytest.raises(TooTangled, match="too deep in each other. Take marks away where lines begin."):
        html_of(deep * 300 + "here")


def test_the_steps_of_an_ordinary_text_are_far_from_the_bound() -> None:
    text = "The **top** is in, see [the maker](https://example.com/care). Wipe it with water only.\n\n" * 200
    with counting() as steps:
        assert html_of(text).count("<a ") == 200
    assert steps.calls < _CALLS * LONGEST / 4 and steps.letters < _LOOKED / 4


HIDDEN = [
    ("a &#x202e;b", "a b"), ("a &#8238;b", "a b"), ("&#x2066;a", "a"), ("a &#0;b", "a \ufffdb"), ("a&#1;b", "ab"),
    ("a&#x7f;b", "ab"), ("a&#xfdd0;b", "ab"), ("a &lt;script&gt; b", "a <script> b"), ("e&#x301;", "\u00e9"),
    ("`&#x202e;`", "&#x202e;"), ("&amp;#x202e;", "&#x202e;"), ("&#x26;#x202e;", "&#x202e;"),
    ("a [b](https://example.com/&#x202e;c)", "a b"), ("&#xd800;a", "\ufffda"), ("a&#x85;b", "a\u2026b"),
    ("a&rlm;b", "a\u200fb"), ("a&#x200b;b", "a\u200bb"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "shown"), HIDDEN)
def test_no_entity_brings_back_what_a_typed_text_may_not_hold(text: str, shown: str) -> None:
    """Marks of direction and what has no width may be typed, so they may be written as entities, too."""
    assert plain_of(text) == shown
    assert not set(html_of(text)) & set(map(chr, [*range(9), *range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x7F]))


@pytest.mark.parametrize("text", ["&#x200b;", "&#x202e;&#x2066;", "&nbsp; &shy;", "[](https://example.com)"])
def test_a_text_of_which_nothing_would_be_seen_is_refused(text: str) -> None:
    with pytest.raises(TooTangled, match="Nothing of this would be seen. Write words."):
        prose(text)
