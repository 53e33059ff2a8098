"""A typed name gets one article, however it was typed."""

import pytest

from portal.words.articles import bare, with_the


@pytest.mark.parametrize("typed", ["faucet", "the faucet", "The faucet", "a faucet", "A  faucet", " the faucet "])
def test_a_name_has_one_article_however_it_was_typed(typed: str) -> None:
    assert (bare(typed), with_the(typed)) == ("faucet", "the faucet")


@pytest.mark.parametrize("typed", ["another tap", "theater light", "A", "the", "Anna's tap"])
def test_what_only_begins_like_an_article_stays(typed: str) -> None:
    assert bare(typed) == typed
