"""What the texts leave holds every house that the rule finds, whatever its letters: against looking at all."""

import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import product

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from portal.store import tables
from portal.store.engine.database import database, write
from portal.store.finding import said_houses
from portal.store.rows import project_rows
from portal.words.house_search import has_number, is_found, said_words
from portal.words.names import folded, words_of
from tests.house import House

NAMES = (
    "O'Brien", "O’Brien", "Zoë Müller", "MÜLLER", "Smith-Lund", "d`Arcy", "奥加福", "Jonas_Lee", "The Joneses",
    "50 % Off", "St. Paul Ln", "Quarry Road 14B", "12 Lane Street", "Dr. Ortega", "a\tb",
)  # fmt: skip
PHONES = ("(218) 555-0142", "218.555.0177 x 9", "２１８5550163", "+1 612 555 01 99", "", "555–0144")
SAID = (
    "obrien", "O'Brien", "zoe", "muller", "müller", "lund", "smith lund", "darcy", "奥加福", "jonas_lee", "jonas lee",
    "jones", "joneses", "50 %", "street paul lane", "st", "ln", "lane", "quarry rd", "14", "14b", "rd", "str", "drive",
    "b", "%", "_", "2185550142", "218-555", "0177", "5550163", "612", "0199", "555 0144", "18", "the", "x",
    "of the", "o brien", "[", "*",
)  # fmt: skip


def test_what_is_found_is_what_looking_at_every_house_finds(house: House) -> None:
    with write():
        for number, (name, address) in enumerate(product(NAMES, NAMES[::4])):
            made = tables.Project.create(
                name=name, address=address, phone=PHONES[number % 6],
                timezone="UTC", starts_on="2026-12-01", calendar={},
            )  # fmt: skip
            other = NAMES[(number * 7 + 3) % len(NAMES)]
            tables.Person.create(project=made, name=other, email="", phone=PHONES[number % 5], role="homeowner")
    every = said_houses._houses(project_rows.all_ids())
    assert len(every) > 60
    for said in SAID:
        words = said_words(said)
        number = "" if any(c.isalpha() for c in said) else "".join(words)
        wanted = {
            one.id for one in every if words
            and (all(is_found(word, one.words, one.phones) for word in words)
                 or (number and is_found(number, frozenset({"-"}), one.phones)))
        }  # fmt: skip
        assert {one.id for one in said_houses.find(said, most=1000)} == wanted, said


def test_the_words_of_all_houses_are_those_of_each(house: House) -> None:
    with write():
        tables.Person.update(name="Zoë O’Brien").where(tables.Person.id == house.homeowner.id).execute()
    each = said_houses._houses(project_rows.all_ids())
    every = said_houses.read_texts().words
    assert every == set().union(*(one.words for one in each)) >= {"zoe", "obrien"}


@given(st.text(st.characters(max_codepoint=127)))
def test_plain_words_are_parted_as_all_others(text: str) -> None:
    def kept(c: str) -> bool:
        return c == "_" or unicodedata.category(c)[0] in "LMN"

    assert words_of(text) == "".join(c if kept(c) else " " for c in folded(text)).split()


LETTERS = st.text("aAbBeEoO'’`_-. \n\t0129éßŒœİıſΣς奥क्षि٣２#%[*", max_size=12)


@given(st.lists(st.tuples(LETTERS, LETTERS, LETTERS), min_size=1, max_size=6), st.lists(LETTERS, max_size=3))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_the_texts_leave_holds_what_looking_at_every_house_finds(
    house: House, rows: list[tuple[str, str, str]], asked: list[str]
) -> None:
    with invented(rows):
        every, texts = said_houses._houses(project_rows.all_ids()), said_houses.read_texts()
        everyone = set().union(*(one.words for one in every))
        assert texts.words == everyone
        for said in [*asked, *(text[start:] for row in rows for text in row for start in (0, 1))]:
            words = said_words(said)
            number = "" if any(c.isalpha() for c in said) else "".join(words)
            wanted = [
                one.id for one in every if words
                and (one.is_said(words) or (number and has_number(number, one.phones)))
            ]  # fmt: skip
            assert sorted(one.id for one in said_houses.find(said, most=1000)) == wanted, said
        for word in everyone:
            assert list(said_houses._houses_with(word, texts)) == [one.id for one in every if word in one.words], word


@contextmanager
def invented(rows: list[tuple[str, str, str]]) -> Iterator[None]:
    """A house for each, with somebody in it, who are gone afterwards."""
    with database.atomic() as change:
        for name, other, phone in rows:
            made = tables.Project.create(
                name=name, address=other, phone=phone, timezone="UTC", starts_on="2026-12-01", calendar={}
            )  # fmt: skip
            tables.Person.create(project=made, name=other, email=name, phone=phone[::-1])
        yield
        change.rollback()
