"""The blanks that a kind's dimensions are filled into: one list a kind, for the desk's form and the API's description.

What a blank may hold is decided by the kind's `from_json` alone; a test holds the two together.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

STONE_WORK = ("stone_dust", "eyes_and_ears", "wet_drilling", "thin_strips", "water", "electricity", "gas", "lifting")
WOOD_WORK = ("eyes_and_ears", "back_up", "old_paint")
"""Names of the pieces under content/cautions that go with the work, and stand on its sheet."""

LENGTH, WORDS, CHOICE, FLAG, COUNT = "length", "words", "choice", "flag", "count"


@dataclass(frozen=True)
class Blank:
    """One value. `name` is the field of its part; `needed`: `from_json` refuses a part without it."""

    name: str
    label: str
    holds: str = LENGTH
    needed: bool = False
    hint: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Pick:
    """What may fill a part from the list of what is kept: `what` is one of `portal.layouts.sizes.whats`. `fills`: pairs
    of a blank, by its dotted path within the part, and the field of the kept thing that goes there. A path that begins
    with `/` is that of another part's blank, from the outermost object: a top brings its material along."""

    what: str
    fills: tuple[tuple[str, str], ...]

    def paths(self, part: str) -> Iterator[tuple[str, str]]:
        """Give the same pairs with paths from the outermost object, for the object at this path."""
        for blank, field in self.fills:
            yield blank.removeprefix("/") if blank.startswith("/") or not part else f"{part}.{blank}", field


@dataclass(frozen=True)
class Part:
    """The blanks of one object of the dimensions, under one heading. `path` is empty for the outermost object, dotted
    for an object within one. With `rows` it is a list of such objects, and the form has room for so many at first, and
    for up to `most` once somebody asks for more. `picks`: what is measured once and may fill it."""

    path: str
    title: str
    blanks: tuple[Blank, ...]
    needed: bool = False
    rows: int = 0
    hint: str = ""
    picks: tuple[Pick, ...] = ()
    most: int = 0

    @property
    def limit(self) -> int:
        """Give how many objects the list can have; 0 where it is no list."""
        return max(self.rows, self.most)


Form = tuple[Part, ...]


def needed(name: str, label: str, holds: str = LENGTH, *, hint: str = "", choices: tuple[str, ...] = ()) -> Blank:
    """Make a blank without which its part is refused."""
    return Blank(name, label, holds, True, hint, choices)


def pick(what: str, *same: str, **others: str) -> Pick:
    """Make a pick: `same` are blanks that are called as the field that fills them, `others` say which does. `__` in a
    name stands for the dot of a path. `name` and `source` are those of the kept thing itself."""
    pairs = [(name, name) for name in same] + list(others.items())
    return Pick(what, tuple((blank.replace("__", "."), field) for blank, field in pairs))


EDGE_PROFILE = Blank("edge_profile", "Profile of its edges", WORDS,
                     hint="As the shop calls it, such as eased or bevelled. Empty: the sheet says to ask for it.")


def source_of_minimums(who: str) -> Blank:
    """Make the blank for whoever gives the minimums, `who` as a rule: they are never ours, and the page and the
    sheet name their source."""
    return needed("source", "Who says so", WORDS, hint=f"{who}, as it will stand on the page and the sheet.")


def paths(form: Form) -> Iterator[tuple[str, Blank]]:
    """Give every blank by its dotted path; a row of a list stands for all of them, as `accessories.0.hole`."""
    for part in form:
        before = f"{part.path}." if part.path else ""
        for blank in part.blanks:
            yield f"{before}{'0.' if part.rows else ''}{blank.name}", blank


def narrowed(form: Form, names: frozenset[str]) -> Form:
    """Give only the objects and values with these names, for somebody who may change no others."""
    own = (replace(part, blanks=tuple(b for b in part.blanks if part.path or b.name in names), picks=())
           for part in form)
    return tuple(part for part in own if part.blanks and (not part.path or part.path in names))
