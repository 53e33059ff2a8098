"""What to do instead, and why something is out, in words."""

import re
from dataclasses import replace
from datetime import date, datetime

import pytest

from portal.content import cures
from portal.pages import household_words
from portal.pages.household_words import instead_words, shortfall_words, unwatched_words
from portal.planning.household.nights import SHORTFALL_KINDS, Shortfall
from portal.planning.household.outages import Because
from portal.planning.household.services import BURDENS, SERVICES
from portal.planning.household.tonight import ServiceState
from portal.words.dates import day_words


def out(service: str, other: tuple[str, str] | None = None, instead: str = "") -> str:
    return instead_words(ServiceState(service, "", usable=False, instead=instead, other=other))


def test_what_can_be_used_needs_no_advice() -> None:
    assert instead_words(ServiceState("sink", "", usable=True)) == ""


@pytest.mark.parametrize(
    ("service", "other", "said"),
    [
        ("sink", ("", "Hall bath"), "Use the sink in the Hall bath."),
        ("bath", ("", "Hall bath"), "Use the bath or shower in the Hall bath."),
        ("sink", ("prep sink", "Pantry"), "Use the prep sink in the Pantry."),
        ("way_through", ("", "Hall"), "Go through the Hall."),
        ("way_through", ("back door", "Hall"), "Use the back door in the Hall."),
        ("toilet", None, "No other toilet works: plan the night elsewhere, or call us about a portable one."),
        ("heat", None, "Have blankets ready. Never bring a grill or an outdoor heater inside."),
    ],
)  # fmt: skip
def test_another_that_works_is_named_else_the_usual_advice(
    service: str, other: tuple[str, str] | None, said: str
) -> None:
    assert out(service, other) == said


def test_what_the_firm_has_written_goes_before_all_else() -> None:
    assert out("sink", ("", "Hall bath"), "Ask Ines for the key.") == "Ask Ines for the key."


def test_every_service_and_burden_has_its_name_and_its_advice() -> None:
    for service in (*SERVICES, *BURDENS):
        assert household_words.SERVICE_WORDS[service] and out(service).endswith(".")


def test_a_reason_is_a_name_and_the_wait_after_it() -> None:
    seal = Because("Seal the sink", "silicone")
    assert household_words.because_words(seal) == f"Seal the sink ({cures()['silicone'].name})"
    assert household_words.quoted_because(seal) == "“Seal the sink” (sealant must cure)"
    assert household_words.quoted_because(Because("Tile")) == "“Tile”"


def test_a_shortfall_is_one_sentence_for_the_household() -> None:
    why = (Because("Tile"), Because("Seal", "silicone"))
    day = date(2026, 12, 11)
    found = Shortfall("no_toilet", day, date(2026, 12, 12), 0, None, why, (3, 4), day)
    assert list(shortfall_words([found], day_words)) == [(
        "From the night of Fri Dec 11 to the night of Sat Dec 12 no toilet can be used, because of “Tile” and “Seal” "
        "(sealant must cure)."
    )]


def test_shortfalls_of_one_day_are_one_sentence_with_its_hours() -> None:
    hours = (datetime(2026, 12, 8, 8, 0), datetime(2026, 12, 8, 15, 0))
    day = date(2026, 12, 8)
    toilet = Shortfall("no_toilet", day, day, 0, 1, (Because("Plumb"),), (3,), day, by_day=True, hours=hours)
    found = [toilet, replace(toilet, kind="no_water"), replace(toilet, last=date(2026, 12, 10), hours=None)]
    assert list(shortfall_words(found, day_words)) == [
        "On Tue Dec 8 from 8:00 to 3:00 no toilet can be used, and there is no water, because of “Plumb”.",
        "From Tue Dec 8 to Thu Dec 10, while the crew works, no toilet can be used, because of “Plumb”.",
    ]


def test_every_kind_that_nobody_watches_is_said() -> None:
    assert [unwatched_words(kind) for kind in SHORTFALL_KINDS] == [
        f"No room is said to have {what}, so it isn’t watched."
        for what in ("a toilet", "water", "a way to cook", "a way in or out")
    ]


@pytest.mark.parametrize("service", [*SERVICES, *BURDENS])
def test_advice_is_whole_sentences_that_tell_someone_what_to_do(service: str) -> None:
    """It begins with a capital, ends with a period, and has no word that only a plumber knows."""
    assert re.fullmatch(r"[A-Z][^.:]*(: [^.:]+)?\.( [A-Z][^.:]*\.)?", out(service))
    assert len(out(service)) <= 90


@pytest.mark.parametrize(
    ("service", "must_say"),
    [
        # What kills or harms: carbon monoxide indoors, and respirable silica (29 CFR 1926.1153).
        ("heat", "Never bring a grill or an outdoor heater inside"), ("dust", "harms the lungs"),
        ("drain", "Pour nothing down a drain"), ("sink", "pour nothing down the drain"), ("floor", "pets too"),
        ("power", "keep the refrigerator shut"), ("toilet", "call us about a portable one"),
        ("way_through", "call us before you come or go"),
    ],
)  # fmt: skip
def test_what_must_not_be_left_unsaid(service: str, must_say: str) -> None:
    assert must_say in out(service)
