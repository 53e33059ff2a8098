"""What a caller asks first, in the sentences of the page, for the office to read out: who comes today and tomorrow,
what works tonight, when it is done, what it costs so far."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from portal.pages.home.approved import agreed_sentences
from portal.pages.home.coming import finish_sentences
from portal.pages.home.today import day_words_of
from portal.pages.home.tonight import needs_sentence
from portal.planning.forecast.forecast import Forecast
from portal.planning.household.tonight import HouseServices
from portal.store.facts import Snapshot


@dataclass(frozen=True, slots=True)
class Answer:
    """`asked`: the question in two or three words."""

    asked: str
    sentences: list[str]


def phone_answers(snapshot: Snapshot, house: HouseServices, forecast: Forecast | None, today: date) -> list[Answer]:
    days = (today, today + timedelta(days=1))
    answers = [
        Answer("Today and tomorrow", [day_words_of(snapshot, day, today) for day in days]),
        Answer("Tonight", list(_tonight(house, today))),
        Answer("When it is done", list(finish_sentences(snapshot, forecast, today))),
        Answer("The price so far", list(agreed_sentences(snapshot, today))),
    ]
    return [answer for answer in answers if answer.sentences]


def _tonight(house: HouseServices, today: date) -> Iterator[str]:
    if said := needs_sentence(house, today):
        yield said
