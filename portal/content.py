"""The written guidance in content/: found by folder and name, read once, turned into HTML once.

How long something rests is said with the figures of content/cures.toml: `{{cures}}` stands for its rows as a table has
them, `{{cure:silicone}}` for one figure.
"""

import hashlib
import re
from dataclasses import dataclass
from functools import lru_cache

from portal.folders import CONTENT
from portal.planning.household.cure_times import CureTable, CureTableError, CureTime, read_cures
from portal.words.dates import cure_words
from portal.words.prose import html_of

_CURES = CONTENT / "cures.toml"
_FIGURE = re.compile(r"\{\{cure:([a-z0-9_]+)\}\}")
_NAME = re.compile(r"[a-z0-9][a-z0-9_-]*")


@dataclass(frozen=True, slots=True)
class Piece:
    """One page of guidance. `body` is what comes after title and summary, `version` the SHA-256 of `text`, the
    Markdown: it tells which wording was shown."""

    name: str
    title: str
    summary: str
    body: str
    text: str
    version: str

    @property
    def html(self) -> str:
        """Made when a page first shows it: an act that keeps the words needs none."""
        return _html(self.body)

    def split_at(self, heading: str) -> tuple[str, str]:
        """Its HTML before a heading, and from it on: the second is empty where there is none."""
        before, mark, after = self.body.partition(f"\n## {heading}\n")
        return _html(before), _html(mark + after) if mark else ""


@lru_cache(maxsize=256)
def piece(folder: str, name: str) -> Piece | None:
    """The piece `content/<folder>/<name>.md`, or None."""
    path = CONTENT / folder / f"{name}.md"
    if not _NAME.fullmatch(name) or not path.is_file():
        return None
    return parse(name, filled(path.read_text(encoding="utf-8"), cures()))


class MissingPiece(Exception):
    """A page that must be there isn't; the message names its file."""


def required_piece(folder: str, name: str) -> Piece:
    """Find a piece without which nothing should be shown or printed. Raises MissingPiece, which names the file."""
    found = piece(folder, name)
    if found is None:
        path = CONTENT / folder / f"{name}.md"
        raise MissingPiece(f"{path} is missing. Put it back as it was delivered, then start again.")
    return found


@lru_cache(maxsize=1)
def cures() -> CureTable:
    """The table of cure times, from which all plans, warnings and guidance take them. Raises MissingPiece, which names
    the file, where it is not there or can't be used."""
    try:
        return read_cures(_CURES.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, CureTableError) as error:
        raise MissingPiece(f"{_CURES}: {error}. Put it back as it was delivered, then start again.") from error


def filled(text: str, table: CureTable) -> str:
    """Put the figures of the table in their places. Raises MissingPiece for one that is not in it."""
    rows = "\n".join(_row(cure) for cure in table.values())
    try:
        return _FIGURE.sub(lambda found: _figure(table[found[1]]), text.replace("{{cures}}", rows))
    except KeyError as unknown:
        raise MissingPiece(f"{_CURES} has no row {unknown}. Put it back as it was delivered.") from unknown


def _row(cure: CureTime) -> str:
    """A row of a table, its source beside the figure: a third column would not fit the narrowest screen."""
    return f"| {cure.what} | {_figure(cure)}{f' ({cure.source})' if cure.source else ''} |"


def _figure(cure: CureTime) -> str:
    return cure_words(cure.least, cure.hours, cure.more)


@lru_cache(maxsize=16)
def pieces(folder: str) -> tuple[Piece, ...]:
    """All pieces of a folder, by title."""
    found = (piece(folder, path.stem) for path in sorted((CONTENT / folder).glob("*.md")))
    return tuple(sorted((p for p in found if p is not None), key=lambda p: p.title))


def guidance_for(kind: str) -> Piece | None:
    """The guidance shown beside a decision of this kind."""
    return piece("decisions", kind) or piece("decisions", "general")


@lru_cache(maxsize=256)
def parse(name: str, text: str) -> Piece:
    """First line `# Title`, then `> summary`, then Markdown."""
    version = hashlib.sha256(text.encode()).hexdigest()
    lines = text.splitlines()
    title = lines.pop(0).removeprefix("# ").strip()
    while lines and not lines[0].strip():
        lines.pop(0)
    summary = []
    while lines and lines[0].startswith(">"):
        summary.append(lines.pop(0).lstrip("> ").strip())
    return Piece(name, title, " ".join(summary), "\n".join(lines), text, version)


@lru_cache(maxsize=256)
def _html(body: str) -> str:
    return html_of(body)
