"""The cautions that the sheet of a kind prints: one set, written in content/cautions, named by the kind."""

from functools import lru_cache
from typing import Any

from portal.content import Piece, required_piece
from portal.layouts.content_tables.materials import MATERIALS, dust_of
from portal.layouts.kinds import KINDS, kind_named
from portal.words.prose import plain_of, words_of


def cautions_of(kind: str, dimensions: Any = None) -> list[str]:
    """Say each caution of the work in one paragraph without marks, in the kind's order, and for the material that the
    dimensions name. Raises MissingPiece."""
    return [_plain(required_piece("cautions", name)) for name in dust_of(kind_named(kind).CAUTIONS, dimensions)]


def check_cautions() -> None:
    """See that every caution of every kind and material is there, before anything is served: a crew that reads none
    takes the work for safe. Raises MissingPiece, which names the file."""
    for kind in KINDS:
        for material in (None, *MATERIALS):
            cautions_of(kind, {"material": material})


@lru_cache(maxsize=256)
def _plain(caution: Piece) -> str:
    """Kept for as long as the program runs: each start asks for all of them, some several times."""
    body = caution.html.partition("<h2>")[0]
    return f"{caution.title}: {plain_of(caution.summary)} {words_of(body)}"
