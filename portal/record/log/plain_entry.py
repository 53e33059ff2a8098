"""The short way to check an entry: its bytes are taken apart at their seams, so that little need be parsed.

An entry that is the canonical row `{"actor":A,"at":T,"body":B,...}` with canonical A and B, a time T, a known kind,
and the ending that its place demands, is right as a whole. Whatever is not so surely right is left to the careful
way (entry_check), which also finds the words; so are the few that need a word in any case, such as a moved clock.
Verifying long records would take twice the time without this.
"""

import json
from collections.abc import Callable
from functools import lru_cache
from typing import Any

from portal.record.log.canonical import LARGEST_PLAIN, SMALLEST_PLAIN
from portal.record.log.chain import is_earlier, is_time
from portal.record.log.entry_kinds import KINDS, ROTATED

_PLAIN_KINDS = KINDS.keys() - {ROTATED}

_encode = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), sort_keys=True, allow_nan=False).encode


class _Unsure(ValueError):
    """Raised while parsing, where only the careful way can tell."""


def _plain_float(text: str) -> float:
    number = float(text)
    if SMALLEST_PLAIN <= abs(number) < LARGEST_PLAIN and not number.is_integer():
        return number
    raise _Unsure(text)


@lru_cache(maxsize=4096)  # few different numbers come again and again
def _plain_integer(text: str) -> int:
    if len(text) > 15:
        raise _Unsure(text)
    return int(text)


_parse: Callable[[str], tuple[Any, int]] = json.JSONDecoder(
    parse_float=_plain_float, parse_int=_plain_integer
).raw_decode


class PlainCheck:
    """Checks the entries of one project; remembers the actors it has seen, who are few."""

    def __init__(self, project: int) -> None:
        self._project = project
        self._actors: set[str] = set()

    def time_of(self, data: bytes, sequence: int, previous: str, before: str) -> str | None:
        """The time of an entry that surely is right at its place, else None.

        `previous` is the hash and `before` the time of the entry before.
        """
        try:
            text = data.decode()
            end = f'","previous":"{previous}","project":{self._project},"sequence":{sequence}}}'
            if not text.endswith(end):
                return None
            head, _, kind = text[:-len(end)].rpartition(',"kind":"')
            actor, _, rest = head.partition(',"at":"')
            at, _, body = rest.partition('","body":')
            right = kind in _PLAIN_KINDS and is_time(at) and not is_earlier(at, before)
            return at if right and self._is_actor(actor) and _is_object(body) else None
        except (ValueError, RecursionError):
            return None

    def _is_actor(self, head: str) -> bool:
        """Whether the row begins with an actor, in canonical form."""
        if head in self._actors:
            return True
        text = head.removeprefix('{"actor":')
        if len(text) == len(head) or not _is_object(text) or not {"kind", "id", "name"} <= _parse(text)[0].keys():
            return False
        self._actors.add(head)
        return True


def _is_object(text: str) -> bool:
    """Whether the text is a JSON object and in canonical form."""
    return text[:1] == "{" and _sorts_plainly(text) and _encode(_parse(text)[0]) == text


def _sorts_plainly(text: str) -> bool:
    """Whether no character lies beyond the Basic Multilingual Plane: there, keys sort as the encoder sorts them."""
    return text.isascii() or len(text.encode("utf-16-le")) == 2 * len(text)
