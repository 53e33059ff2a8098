"""Picking what is kept, and keeping what was typed, in a kind's form: made of the form's `picks`, alike for all kinds.

What is picked fills the blanks that are empty, and says which; what was typed stays as it is.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from portal.layouts.content_tables.usual import USUAL
from portal.layouts.form import Pick
from portal.layouts.sizes.picking import FIRM, HOUSE, OURS, Size, fills, kept_of
from portal.layouts.sizes.whats import WHATS
from portal.web.forms.blanks import PREFIX, Group, dimensions_from, groups
from portal.web.forms.inputs import Choices, Field
from portal.web.forms.nesting import Positions
from portal.words.lists import quoted
from portal.words.plurals import plural

Typed = dict[str, list[str]]

_WHOSE = {HOUSE: "of this house", FIRM: "of the firm", OURS: "usually"}
_KEEP_FOR = ((HOUSE, "Keep them for this house"), (FIRM, "Keep them for the firm, for every house"))


@dataclass(frozen=True)
class Box:
    """What goes with one pick of one group: the list to pick from, None while nothing is kept, and the inputs to keep
    what was typed there. `stands` says where a fault of a kept field is shown."""

    group: Group
    what: str
    pick: Field | None
    keep: tuple[Field, ...]
    stands: Mapping[str, str]

    @property
    def name(self) -> str:
        """What the names of its inputs end with."""
        return f"{self.what}.{self.group.path}".removesuffix(".")

    @property
    def picked(self) -> str:
        """The name of its list."""
        return f"pick.{self.name}"

    @property
    def filled(self) -> str:
        """The name under which the form carries what filled the inputs already."""
        return f"was.{self.name}"

    @property
    def title(self) -> str:
        return WHATS[self.what].title

    @property
    def fields(self) -> tuple[Field, ...]:
        return (self.pick, *self.keep) if self.pick else self.keep


def boxes(group: Group, sizes: Sequence[Size], owners: Sequence[str]) -> list[Box]:
    """The boxes of a group, one a pick. `owners`: for whom somebody may keep something, of HOUSE and FIRM."""
    return [_box(group, pick, sizes, owners) for pick in group.part.picks]


def fill(kind: str, typed: Typed, sizes: Sequence[Size]) -> list[str]:
    """Fill the empty inputs of `typed` with what was picked in each group, and say what was filled, in a sentence a
    pick. Where something else was picked before, what came from that goes first, and alone where nothing is picked any
    more. What is picked stays so, and fills once: whoever empties an input afterwards means it."""
    labels = {one.name: one.label for group in groups(kind, sent=typed) for one in group.fields}
    said = []
    for group in groups(kind, sent=typed):
        for box in boxes(group, sizes, ()):
            key, before = ("".join(typed.pop(name, [])) for name in (box.picked, box.filled))
            size, former = _size(box, key, sizes), _size(box, before, sizes)
            if size:
                typed[box.picked] = typed[box.filled] = [key]
            if former and key != before:
                _taken_out(group, former, typed)
            if size and key != before:
                said.append(_said(group, size, _filled(group, size, typed, labels)))
            elif former and not key:
                said.append(f"{group.title}: what came from “{former.name}” is out again.")
            elif key and not size:
                said.append(f"{group.title}: what you chose is no longer kept.")
    return said


def pick_only_ones(kind: str, typed: Typed, sizes: Sequence[Size]) -> list[str]:
    """Where one thing alone is kept for a needed part, pick it and fill in what it has; say so in a sentence. Rows are
    left alone: nobody knows how many there are."""
    found = []
    for group in groups(kind, sent=typed):
        for box in boxes(group, sizes, ()):
            its = [one for one in sizes if one.what == box.what]
            if group.part.needed and not group.part.rows and len(its) == 1 and its[0].owner != OURS:
                typed[box.picked] = [its[0].key]
                found.append(its[0].name)
    fill(kind, typed, sizes)
    if not found:
        return []
    return [f"{quoted(found)} {plural(len(found), 'is', 'are')} filled in: nothing else of the kind is kept."]


def recognize(kind: str, typed: Typed, sizes: Sequence[Size]) -> None:
    """Set each list to what is kept as it was typed, so that a question that is asked again says what it was."""
    for group in groups(kind, sent=typed):
        for box in boxes(group, sizes, ()):
            same = next((one for one in sizes if one.what == box.what and one.owner != OURS
                         and _is_typed(group, one, typed)), None)
            if same:
                typed[box.picked] = typed[box.filled] = [same.key]


def _is_typed(group: Group, size: Size, typed: Typed) -> bool:
    values = [(name, text) for name, text in _written(group, size).items() if not name.endswith((".name", ".source"))]
    return bool(values) and all("".join(typed.get(name, [])) == text for name, text in values)


def _size(box: Box, key: str, sizes: Sequence[Size]) -> Size | None:
    return next((size for size in sizes if size.key == key and size.what == box.what), None)


def _taken_out(group: Group, former: Size | None, typed: Typed) -> None:
    """Empty the inputs that still hold what was picked before."""
    for name, text in (_written(group, former) if former else {}).items():
        if "".join(typed.get(name, [])).strip() == text:
            typed[name] = [""]


def _written(group: Group, size: Size) -> dict[str, str]:
    """All that a size fills of a group, by the names of inputs."""
    given = fills(group.part, group.path, size, lambda blank: None)
    return {f"{PREFIX}{blank}": _text(value) for blank, value in given.items()}


def to_keep(kind: str, typed: Typed, owners: Sequence[str]) -> Iterator[tuple[Box, str, dict[str, Any]]]:
    """Give what is to be kept of what was typed: its box, for whom, and `what`, `name`, `source` and `values`."""
    dimensions, positions = dimensions_from(kind, typed)
    for group in groups(kind, sent=typed):
        for box in boxes(group, (), owners):
            owner = "".join(typed.get(f"keep.{box.name}", []))
            if owner in owners:
                path = _path_there(group, positions)
                values = {} if path is None else kept_of(group.part, path, box.what, dimensions)
                own = {name: values.pop(name, "") or "".join(typed.get(f"keep.{box.name}.{name}", []))
                       for name in ("name", "source")}
                yield box, owner, {"what": box.what, "values": values, **own}


def _box(group: Group, pick: Pick, sizes: Sequence[Size], owners: Sequence[str]) -> Box:
    name = f"{pick.what}.{group.path}".removesuffix(".")
    list_of = [("", "nothing of these"), *((size.key, _words(size)) for size in sizes if size.what == pick.what)]
    hint = "It fills what is empty below. What is typed stays."
    picked = Field(f"pick.{name}", f"{WHATS[pick.what].title}, from what is kept", "choice", hint, choices=list_of)
    where = {field: f"{PREFIX}{blank}" for blank, field in pick.paths(group.path)}
    keep = tuple(_keep_fields(name, [one for one in _KEEP_FOR if one[0] in owners], where))
    own = {one.name.rpartition(".")[2]: one.name for one in keep[1:]}
    return Box(group, pick.what, picked if len(list_of) > 1 else None, keep, {**where, **own, "": f"keep.{name}"})


def _keep_fields(name: str, whose: Choices, where: Mapping[str, str]) -> Iterator[Field]:
    if not whose:
        return
    yield Field(f"keep.{name}", "Keep these sizes", "choice", choices=[("", "no"), *whose],
                hint="Done when you work out the layouts. What was asked already stays as it was asked.")
    if "name" not in where:
        yield Field(f"keep.{name}.name", "Under which name", hint="Such as: window wall.")
    if "source" not in where:
        yield Field(f"keep.{name}.source", "Who measured them, or whose sheet says so")


def _words(size: Size) -> str:
    """Its name first: a phone's list shows no more."""
    said = f"{size.name}, {_WHOSE[size.owner]}"
    if size.owner == OURS:
        usual = USUAL[size.key].usual
        return f"{said} {usual} ({size.source})" if usual else f"{size.name}; its sheet says how wide"
    return f"{said} ({size.source})"


def _filled(group: Group, size: Size, typed: Typed, labels: Mapping[str, str]) -> list[str]:
    """Fill the inputs, in their order on the page, and give their labels with what went in."""
    def text_at(blank: str) -> str:
        return "".join(typed.get(f"{PREFIX}{blank}", [])).strip()

    written = replace(size, values={field: _text(value) for field, value in size.values.items()})
    given = {f"{PREFIX}{blank}": text for blank, text in fills(group.part, group.path, written, text_at).items()}
    found = []
    for name in (name for name in labels if name in given and not text_at(name.removeprefix(PREFIX))):
        text = given[name]
        typed[name] = [text]
        found.append(f"{labels[name]}, {text.replace('_', ' ')}")
    return found


def _text(value: Any) -> str:
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)


def _said(group: Group, size: Size, filled: Sequence[str]) -> str:
    whose = f"“{size.name}”{f' ({size.source})' if size.source else ''}"
    if not filled:
        return f"{group.title}: nothing that {whose} has was empty, so it filled in nothing."
    return f"{group.title}, filled in from {whose}: {'; '.join(filled)}."


def _path_there(group: Group, positions: Positions) -> str | None:
    """The path of a group's object among the dimensions, where rows that are blank are left out: None of such a one."""
    if not group.part.rows:
        return group.path
    row, rows = int(group.path.rpartition(".")[2]), positions.get(group.part.path, [])
    return f"{group.part.path}.{rows.index(row)}" if row in rows else None
