"""What the household can do instead."""

import re

import pytest

from portal.planning.household.advice import INSTEAD, SERVICE_WORDS, use_other
from portal.planning.household.services import BURDENS, SERVICES


def test_every_service_and_burden_has_its_word_and_its_advice() -> None:
    assert set(SERVICE_WORDS) == set(INSTEAD) == {*SERVICES, *BURDENS}


@pytest.mark.parametrize("service", sorted(INSTEAD))
def test_advice_is_whole_sentences_that_tell_someone_what_to_do(service: str) -> None:
    """It begins with a capital, ends with a period, and has no word that only a plumber knows."""
    advice = INSTEAD[service]
    assert re.fullmatch(r"[A-Z][^.:]*(: [^.:]+)?\.( [A-Z][^.:]*\.)?", advice)
    assert len(advice) <= 90


@pytest.mark.parametrize(
    ("service", "must_say"),
    [
        # What kills or harms: carbon monoxide indoors, and respirable silica (29 CFR 1926.1153).
        ("heat", "Never bring a grill or an outdoor heater inside"),
        ("dust", "harms the lungs"),
        ("drain", "Pour nothing down a drain"),
        ("sink", "pour nothing down the drain"),
        ("floor", "pets too"),
        ("power", "keep the refrigerator shut"),
        ("toilet", "call us about a portable one"),
        ("way_through", "call us before you come or go"),
    ],
)
def test_what_must_not_be_left_unsaid(service: str, must_say: str) -> None:
    assert must_say in INSTEAD[service]


@pytest.mark.parametrize(
    ("service", "name", "words"),
    [
        ("toilet", "", "Use the toilet in the Guest bath."),
        ("bath", "", "Use the bath or shower in the Guest bath."),
        ("bath", "tub", "Use the tub in the Guest bath."),
        ("way_through", "", "Go through the Guest bath."),
        ("way_through", "side door", "Use the side door in the Guest bath."),
    ],
)
def test_another_of_the_kind_is_named(service: str, name: str, words: str) -> None:
    assert use_other(service, name, "Guest bath") == words
