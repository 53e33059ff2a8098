"""A kind's form as it is drawn: the lists to pick from, the picture with its inputs, and the folds for the rest."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from portal.drawings.form_kinds import FORM_DRAWINGS, known_of
from portal.drawings.forms.form_drawing import WIDE, Fold, FormDrawing
from portal.drawings.writers.front_svg import form_svg
from portal.layouts.kinds import kind_named
from portal.web.forms.blanks import PREFIX, Group, Growing, Texts, growing
from portal.web.forms.inputs import Field, grouped
from portal.web.forms.picking import Box

Faults = Mapping[str, Sequence[str]]
MOST_TOLD = 3


@dataclass(frozen=True)
class Placed:
    """An input over the picture, its middle in percent of it."""

    field: Field
    left: int
    top: int


@dataclass(frozen=True)
class Section:
    """What a fold has of one group: the inputs that stand nowhere else, lists to pick from, inputs to keep sizes."""

    group: Group
    fields: tuple[Field, ...]
    boxes: tuple[Box, ...]

    @property
    def every(self) -> list[Field]:
        """All its inputs, each with the thing that it is of."""
        return grouped(self.group.title, [*self.fields, *(one for box in self.boxes for one in box.fields)])


@dataclass(frozen=True)
class Folded:
    """A fold with its present value. `needed`: something in it must still be given."""

    number: int
    fold: Fold
    sections: tuple[Section, ...]
    values: tuple[str, ...]
    needed: bool
    is_open: bool
    growing: tuple[Growing, ...]

    @property
    def has_blanks(self) -> bool:
        return any(section.fields for section in self.sections)

    @property
    def value(self) -> str:
        """The present value in a few words, for its title; empty where there is none."""
        return ", ".join(self.values[:MOST_TOLD]) + ("…" if len(self.values) > MOST_TOLD else "")


@dataclass(frozen=True)
class DrawnForm:
    """All of a kind's inputs, each once. `without`: lists that would stand open, if anything were kept for them."""

    says: str
    svg: Markup
    lists: tuple[Field, ...]
    without: tuple[str, ...]
    placed: tuple[Placed, ...]
    folds: tuple[Folded, ...]

    @property
    def hinted(self) -> list[Field]:
        """The inputs of the picture beside which something is to be said."""
        return [one.field for one in self.placed if one.field.hint]

    @property
    def fields(self) -> list[Field]:
        """Every input in its order on the page."""
        folded = [one for fold in (*self.sizes, *self.rest) for section in fold.sections for one in section.every]
        return [*self.lists, *(one.field for one in self.placed), *folded]

    @property
    def sizes(self) -> list[Folded]:
        """The folds with the sizes of what is picked, a thing each; they stand below the lists."""
        return [one for one in self.folds if one.fold.of]

    @property
    def rest(self) -> list[Folded]:
        return [one for one in self.folds if not one.fold.of]


def drawn_form(kind: str, groups: Sequence[Group], kept: Sequence[Sequence[Box]], typed: Texts,
               wrong: Faults, wanted: Collection[str] = ()) -> DrawnForm:
    """`kept`: the boxes of each of the `groups`; `typed` and `wrong` by the names of inputs. `wanted`: those that must
    still be given, besides what every form needs."""
    drawing = FORM_DRAWINGS[kind]
    texts = {name.removeprefix(PREFIX): "".join(text) for name, text in typed.items() if name.startswith(PREFIX)}
    shapes = drawing.draw(known_of(kind_named(kind).FORM, texts))
    lists, without = _lists(drawing, kept)
    folds = [_folded(number, fold, drawing, list(zip(groups, kept, strict=True)), typed, wrong, wanted,
                     growing(kind, typed))
             for number, fold in enumerate(drawing.folds, 1)]
    return DrawnForm(
        drawing.says, Markup(form_svg(shapes, WIDE, drawing.height)), tuple(lists), tuple(without),
        tuple(_placed(drawing, groups)), tuple(fold for fold in folds if fold.sections),
    )  # fmt: skip


def _lists(drawing: FormDrawing, kept: Sequence[Sequence[Box]]) -> tuple[list[Field], list[str]]:
    boxes = {(box.group.path, box.what): box for of_group in kept for box in of_group}
    found, without = [], []
    for one in drawing.lists:
        box = boxes.get((one.path, one.what))
        if box and box.pick:
            found.append(replace(box.pick, label=one.label, hint=""))
        elif box:
            without.append(one.label)
    return found, without


def _placed(drawing: FormDrawing, groups: Sequence[Group]) -> Iterator[Placed]:
    fields = {field.name.removeprefix(PREFIX): (group, field) for group in groups for field in group.fields}
    for spot in drawing.spots:
        group, field = fields[spot.path]
        left, top = drawing.percent(spot)
        yield Placed(replace(field, label=f"{group.title}: {field.label}"), left, top)


def _folded(
    number: int, fold: Fold, drawing: FormDrawing, groups: list[tuple[Group, Sequence[Box]]], typed: Texts,
    wrong: Faults, wanted: Collection[str], lists: Sequence[Growing],
) -> Folded:
    sections = tuple(one for one in (_section(fold, drawing, *each) for each in groups) if one)
    fields = [one for section in sections for one in section.fields]
    values = tuple(text.replace("_", " ") for one in fields if (text := "".join(typed.get(one.name, [])).strip()))
    needed = any((one.required or one.name in wanted) and not "".join(typed.get(one.name, [])).strip()
                 for one in fields)
    is_open = any(one.name in wrong for section in sections for one in section.every)
    grown = tuple(one for one in lists if fold.holds(one.path))
    return Folded(number, fold, sections, values, needed, is_open, grown)


def _section(fold: Fold, drawing: FormDrawing, group: Group, boxes: Sequence[Box]) -> Section | None:
    own = tuple(one for one in group.fields if _fold_of(one.name.removeprefix(PREFIX), drawing) is fold)
    kept = tuple(box for box in _not_open(drawing, group, boxes) if fold is _keeper(box, drawing))
    return Section(group, own, kept) if own or any(box.fields for box in kept) else None


def _not_open(drawing: FormDrawing, group: Group, boxes: Sequence[Box]) -> tuple[Box, ...]:
    """What can be kept of a group, with the lists that do not stand open."""
    open_lists = {(one.path, one.what) for one in drawing.lists}
    return tuple(replace(box, pick=None) if (group.path, box.what) in open_lists else box for box in boxes)


def _keeper(box: Box, drawing: FormDrawing) -> Fold | None:
    """The fold where a thing's sizes are kept: of those that have any blank of its group its own, else the first."""
    folds = (_fold_of(one.name.removeprefix(PREFIX), drawing) for one in box.group.fields)
    found = sorted({drawing.folds.index(fold) for fold in folds if fold})
    own = [at for at in found if drawing.folds[at].of == box.what]
    return drawing.folds[(own or found)[0]] if found else _fold_of(box.group.path, drawing)


def _fold_of(path: str, drawing: FormDrawing) -> Fold | None:
    """A blank stands in the picture, else in the first fold that holds it."""
    return None if drawing.spot(path) else next((one for one in drawing.folds if one.holds(path)), None)
