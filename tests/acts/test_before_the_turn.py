"""Nothing that somebody wrote becomes HTML while others wait for their turn to write.

Every other test holds it, too: `texts_become_html_before_a_turn` in tests/conftest.py.
"""

import pytest

from portal.acts import written
from portal.acts.refusals import FieldRefused
from portal.store.engine.database import write
from portal.words.prose import html_of
from tests.house import House


def test_within_a_turn_no_text_is_turned_into_html(house: House) -> None:
    assert written.shown("text", "It is *in*.").html == "<p>It is <em>in</em>.</p>"
    with pytest.raises(RuntimeError, match="before write"), write():
        written.shown("text", "It is *in*.")
    with pytest.raises(AssertionError, match="all others wait"), write():
        html_of("It is *in*.")


def test_what_is_too_tangled_is_refused_by_its_field(house: House) -> None:
    with pytest.raises(FieldRefused, match="text: This has 1501 lines. Use at most 1000.") as refused:
        written.shown("text", "a\n" * 1500)
    assert refused.value.field == "text"
