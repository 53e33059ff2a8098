"""The cautions that the sheet of a kind prints: one set, written in content/cautions, named by the kind."""

from portal.content import Piece, required_piece
from portal.layouts.kinds import KINDS, kind_named
from portal.words.prose import plain_of


def cautions_of(kind: str) -> list[str]:
    """Say each caution of the work in one paragraph without marks, in the kind's order. Raises MissingPiece."""
    return [_plain(required_piece("cautions", name)) for name in kind_named(kind).CAUTIONS]


def check_cautions() -> None:
    """See that every caution of every kind is there, before anything is served: a crew that reads none takes the work
    for safe. Raises MissingPiece, which names the file."""
    for kind in KINDS:
        cautions_of(kind)


def _plain(caution: Piece) -> str:
    body = caution.html.partition("<h2>")[0]
    return f"{caution.title}: {plain_of(caution.summary)} {plain_of(body)}"
