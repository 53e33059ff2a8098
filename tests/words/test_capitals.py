"""Where a sentence begins."""

import pytest

from portal.words.capitals import first_upper


@pytest.mark.parametrize(
    ("given", "said"), [("", ""), ("a", "A"), ("the Okafor house", "The Okafor house"), ("élan", "Élan")]
)
def test_only_the_first_letter_is_changed(given: str, said: str) -> None:
    assert first_upper(given) == said
