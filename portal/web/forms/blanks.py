"""A kind's blanks as inputs of a form, what was typed into them as its dimensions, and dimensions as typed before.

An input's name is `dimensions.` and the path of the blank; the rows of a list are numbered. A list of which the kind
takes more than the form shows grows: `more` names the list, `rows.` and its path say how many rows were shown.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from portal.layouts.check import Suggestion
from portal.layouts.form import CHOICE, COUNT, FLAG, Blank, Form, Part
from portal.layouts.kinds import kind_named
from portal.web.forms.inputs import Field
from portal.web.forms.nesting import Positions, value_at

PREFIX = "dimensions."
MORE, ROWS = "more", "rows."
_YES = {"yes": True, "no": False}

Texts = Mapping[str, Sequence[str]]
Hints = dict[str, list[Suggestion]]


@dataclass(frozen=True)
class Group:
    """The inputs of one object under its heading. `folded`: it may be left out, and stands folded while it is empty.
    `path`: that of the object, its number in it where it is one of a list."""

    title: str
    hint: str
    fields: tuple[Field, ...]
    folded: bool
    part: Part
    path: str


@dataclass(frozen=True)
class Growing:
    """A list of which the kind takes more than is shown: `shown` rows of at most `most`."""

    path: str
    title: str
    shown: int
    most: int


def groups(kind: str, form: Form | None = None, sent: Texts | None = None) -> list[Group]:
    """The inputs of a kind's form, or of a part of it. Published values stand beside the fields that they are for.
    A list has the rows that are shown once this was `sent`; without it, all that it can have."""
    found = kind_named(kind)
    hints: Hints = {}
    for each in found.suggestions():
        hints.setdefault(each.field, []).append(each)
    return [group for part in (form or found.FORM) for group in _groups(part, hints, _shown(part, sent))]


def growing(kind: str, sent: Texts) -> list[Growing]:
    """The lists that can have more rows than are shown once this was `sent`."""
    lists = ((part, _shown(part, sent)) for part in kind_named(kind).FORM if part.rows)
    return [Growing(part.path, part.title, shown, part.limit) for part, shown in lists if shown < part.limit]


def _shown(part: Part, sent: Texts | None) -> int:
    """As many rows as were shown or are filled, and as many again as the form begins with when more are asked for."""
    if sent is None or not part.rows:
        return part.limit
    filled = [row + 1 for row in range(part.limit) if _typed(part, f"{part.path}.{row}", sent)]
    before = "".join(sent.get(f"{ROWS}{part.path}", []))
    shown = max(part.rows, *filled, int(before) if before.isdecimal() and len(before) < 4 else 0)
    more = part.rows if part.path in sent.get(MORE, []) else 0
    return min(shown + more, part.limit)


def dimensions_from(kind: str, sent: Texts, form: Form | None = None) -> tuple[dict[str, Any], Positions]:
    """What was typed, blank inputs left out. The positions say which rows of the form the items of a list were."""
    found: dict[str, Any] = {}
    positions: Positions = {}
    for part in form or kind_named(kind).FORM:
        if part.rows:
            filled = {row: _typed(part, f"{part.path}.{row}", sent) for row in range(part.limit)}
            positions[part.path] = [row for row, values in filled.items() if values]
            if positions[part.path]:
                found[part.path] = [filled[row] for row in positions[part.path]]
        else:
            _put(found, part, _typed(part, part.path, sent))
    return found, positions


def texts(kind: str, dimensions: Any) -> dict[str, list[str]]:
    """Dimensions as the form holds them."""
    found = {}
    for group in groups(kind):
        for field in group.fields:
            value = value_at(dimensions, field.name.removeprefix(PREFIX))
            if value is not None:
                found[field.name] = [_text(value)]
    return found


def _text(value: Any) -> str:
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)


def _groups(part: Part, hints: Hints, rows: int) -> Iterator[Group]:
    if not part.rows:
        yield Group(part.title, part.hint, _fields(part, part.path, hints), not part.needed, part, part.path)
        return
    for row in range(rows):
        needed = part.needed and row == 0
        path = f"{part.path}.{row}"
        yield Group(f"{part.title} {row + 1}", part.hint, _fields(part, path, hints), not needed, part, path)


def _fields(part: Part, path: str, hints: Hints) -> tuple[Field, ...]:
    within = f"{path}." if path else ""
    told = f"{part.path}." if part.path else ""
    needed = part.needed and not part.rows
    return tuple(_field(blank, f"{PREFIX}{within}{blank.name}", hints.get(f"{told}{blank.name}", []), needed)
                 for blank in part.blanks)


def _field(blank: Blank, name: str, published: Sequence[Suggestion], part_needed: bool) -> Field:
    hint = " ".join([blank.hint, *_told(published)])
    required = part_needed and blank.needed
    if blank.holds in (CHOICE, FLAG):
        words = [(one, one.replace("_", " ")) for one in (blank.choices or tuple(_YES))]
        return Field(name, blank.label, "choice", hint.strip(), required, [("", "not said"), *words])
    kind = "number" if blank.holds == COUNT else "line"
    return Field(name, blank.label, kind, hint.strip(), required)


def _told(published: Sequence[Suggestion]) -> Iterator[str]:
    """All that is published for a field, by source; what is not published says so itself."""
    for source, same in groupby(published, key=lambda each: each.source):
        text = "; ".join(each.text for each in same)
        known = not text.startswith("no published")
        yield f"{f'Published: {text}' if known else text[:1].upper() + text[1:]} ({source})."


def _typed(part: Part, path: str, sent: Texts) -> dict[str, Any]:
    within = f"{path}." if path else ""
    values = {blank.name: _value(blank, sent.get(f"{PREFIX}{within}{blank.name}", [""])) for blank in part.blanks}
    return {name: value for name, value in values.items() if value != ""}


def _value(blank: Blank, typed: Sequence[str]) -> Any:
    text = typed[0].strip() if typed else ""
    if blank.holds == FLAG:
        return _YES.get(text, text)
    return int(text) if blank.holds == COUNT and text.isdecimal() and len(text) < 10 else text


def _put(found: dict[str, Any], part: Part, values: dict[str, Any]) -> None:
    """An object that may be left out is, while all of it is blank; one that is needed says itself what is missing."""
    if not part.path:
        found.update(values)
        return
    *above, last = part.path.split(".")
    inside = found
    for step in above:
        inside = inside.setdefault(step, {})
    if values or part.needed:
        inside[last] = values
