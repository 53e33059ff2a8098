"""Which houses may be meant by what a caller says: the texts of all, read at once, leave few, which are then looked at
by the rules of portal.words.house_search. To read one text for all rows and look through it takes less time than the
database takes to fold and compare each."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import islice
from typing import NamedTuple

from portal.store.between_views import NEVER, BetweenViews
from portal.store.engine.database import is_sqlite
from portal.store.engine.named_rows import rows, values
from portal.store.rows.project_rows import those
from portal.store.tables import Project
from portal.words.house_search import has_number, is_found, nearest, nearest_numbers, pieces, said_words, telling_digits
from portal.words.names import folded, words_of

_IN_ORDER = "ORDER BY closed_at IS NOT NULL, name, id"
_THERE = "SELECT id FROM project WHERE removed_at IS NULL"
_TEXTS = (("project", "id", "name || ' ' || address"), ("person", "project_id", "name || ' ' || email"))
_PHONES = (("project", "id", "phone"), ("person", "project_id", "phone"))
_PROJECTS = "SELECT id AS project_id, name, address AS more, phone FROM project"
_PEOPLE = "SELECT project_id, name, email AS more, phone FROM person"
_AT_ONCE = 100
_NO_DIGITS = dict.fromkeys(at for at in range(128) if chr(at) not in "0123456789\n")


@dataclass(frozen=True, eq=False)
class Texts:
    """What a caller may say of all houses, a text for each and for each of its people: of which house, as it is
    written, and folded."""

    of: list[str]
    written: list[str]
    folded: list[str]

    @cached_property
    def words(self) -> set[str]:
        """The words of all houses."""
        every = " ".join(self.written)
        return set(words_of(every) if every.isascii() else (word for one in every.split() for word in words_of(one)))

    def houses_with(self, some: Iterable[str]) -> set[int]:
        """Those with one of these folded parts in a text."""
        return {int(of) for part in some for of, text in zip(self.of, self.folded, strict=True) if part in text}


class House(NamedTuple):
    """What a caller may say of a project: words of its name, its address, its people; phone numbers as digits."""

    id: int
    words: frozenset[str]
    phones: frozenset[str]

    def is_said(self, words: Iterable[str]) -> bool:
        return all(is_found(word, self.words, self.phones) for word in words)


def texts_between_views() -> Texts:
    """`read_texts`, read anew only after a change. Nobody changes the lists."""
    return _between_views(0)


def read_texts() -> Texts:
    of, written = _joined(_TEXTS)
    every = "\n".join(written)
    if every.isascii():
        return Texts(of, written, every.lower().replace("'", "").replace("`", "").split("\n"))
    return Texts(of, written, [folded(text) for text in written])


_between_views = BetweenViews(lambda _: (read_texts(), NEVER)).at


def find(text: str, most: int = 50, texts: Texts | None = None) -> list[Project]:
    """Projects by part of a name, a street or a phone number, as a caller says it: each word must be found."""
    said = said_words(text)
    number = "" if any(c.isalpha() for c in text) else "".join(said)
    return those(list(islice(_houses_said(said, number, texts or read_texts()), most))) if said else []


def near(text: str, most: int = 3, texts: Texts | None = None) -> list[Project]:
    """Where nothing is found: the houses with the words that sound most like it; of digits alone, those with the phone
    number most like it."""
    texts, said = texts or read_texts(), said_words(text)
    found: dict[int, None] = {}  # in order, each once
    if not any(c.isalpha() for c in text):
        found |= dict.fromkeys(_with_near_number("".join(said)))
    for word in nearest(said, texts.words):
        if len(found) < most:
            found |= dict.fromkeys(islice(_houses_with(word, texts), most))
    return those([*found][:most])


def _houses_said(words: list[str], number: str, texts: Texts) -> Iterator[int]:
    """Those that have each of these words, or `number` (empty: none) in a phone number; the closed ones last."""
    for house in _looked_at(_in_order(_left(words, number, texts))):
        if (number and has_number(number, house.phones)) or house.is_said(words):
            yield house.id


def _in_order(left: set[int]) -> list[int]:
    """The open ones first, by name."""
    if len(left) > _AT_ONCE:
        return [project_id for project_id in values(f"{_THERE} {_IN_ORDER}") if project_id in left]
    marks = ", ".join("?" * len(left))
    return values(f"{_THERE} AND id IN ({marks}) {_IN_ORDER}", *left) if left else []


def _houses(ids: list[int]) -> list[House]:
    """These, in this order."""
    texts: dict[int, list[str]] = {one: [] for one in ids}
    phones: dict[int, list[str]] = {one: [] for one in ids}
    marks = ", ".join("?" * len(ids))
    for sql in (f"{_PROJECTS} WHERE id IN ({marks})", f"{_PEOPLE} WHERE project_id IN ({marks})"):
        for row in rows(sql, *ids) if ids else []:
            texts[row["project_id"]] += row["name"], row["more"]
            phones[row["project_id"]].append(row["phone"])
    return [House(one, frozenset(words_of(" ".join(texts[one]))), frozenset(map(_digits, phones[one]))) for one in ids]


def _houses_with(word: str, texts: Texts) -> Iterator[int]:
    """Those that have this folded word."""
    return (house.id for house in _looked_at(sorted(texts.houses_with({word}))) if word in house.words)


def _looked_at(ids: list[int]) -> Iterator[House]:
    """These, in this order; no more of them are read than somebody takes."""
    for start in range(0, len(ids), _AT_ONCE):
        yield from _houses(ids[start:start + _AT_ONCE])


def _left(words: list[str], number: str, texts: Texts) -> set[int]:
    left = set.intersection(*(_with_word(word, texts) for word in words))
    return left if number in ("", *words) else left | _with_number(number)


def _with_word(word: str, texts: Texts) -> set[int]:
    longest = max(words_of(word), key=len)
    return texts.houses_with(pieces(longest)) | _with_number(word)


def _with_number(said: str) -> set[int]:
    digits = telling_digits(said)
    if not digits:
        return set()
    whose, phones = _joined(_PHONES)
    every = "\n".join(phones)
    each = every.translate(_NO_DIGITS).split("\n") if every.isascii() else map(_digits, phones)
    return {int(of) for of, phone in zip(whose, each, strict=True) if digits in phone}


def _with_near_number(said: str) -> Iterator[int]:
    whose, phones = _joined(_PHONES)
    each = [_digits(phone) for phone in phones]
    for number in nearest_numbers(said, each):
        yield from (int(of) for of, phone in zip(whose, each, strict=True) if phone == number)


def _joined(of_tables: Iterable[tuple[str, str, str]]) -> tuple[list[str], list[str]]:
    """Of each row of these tables the house that it belongs to, and a text."""
    join = "GROUP_CONCAT" if is_sqlite() else "STRING_AGG"
    whose: list[str] = []
    texts: list[str] = []
    for table, of, text in of_tables:
        (row,) = rows(f"""SELECT {join}(CAST({of} AS TEXT), ' ') AS whose, {join}({text}, '\n') AS texts
            FROM {table}""")  # fmt: skip
        some = (row["whose"] or "").split()
        each = (row["texts"] or "").split("\n") if some else []
        if len(each) != len(some):  # a text of more than one line
            found = rows(f"SELECT CAST({of} AS TEXT) AS whose, {text} AS text FROM {table}")
            some, each = [row["whose"] for row in found], [" ".join(row["text"].split("\n")) for row in found]
        whose += some
        texts += each
    return whose, texts


def _digits(phone: str) -> str:
    return "".join(c for c in phone if c.isdecimal())
