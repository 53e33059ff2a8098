"""What a form is made of: labelled inputs, in groups. An input's name is a path: `options.0.title`."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from marshmallow import Schema

Choices = Sequence[tuple[str, str]]

ONE_OF = "picked"
"""The input that says which one of several is picked, by its name."""


@dataclass(frozen=True, slots=True)
class Field:
    """One labelled input. `kind`: line, text, date, time, moment, number, yes, choice, choices, email, phone, password,
    file, hidden, pick (one of a few, all of them in sight), one_of, picked.
    Fields next to each other with one `group` stand together under that heading; those
    that are `folded` are shown when it is opened, or when something is wrong there. `fills`: what a browser or a
    password manager may fill in, by HTML's name for it; `offers`: the list of the page that a line may be picked from.
    `ident`: its id, where another input has the same name; it then holds what follows the first value. `one_of` chooses
    one of the `picked` by its name: these are on or off, and have no input of their own. `adds`: its
    fold is one of a row, and is shown once the one before it is open or filled."""

    name: str
    label: str
    kind: str = "line"
    hint: str = ""
    required: bool = False
    choices: Choices = ()
    group: str = ""
    folded: bool = False
    fills: str = ""
    offers: str = ""
    ident: str = ""
    adds: bool = False

    @property
    def place(self) -> str:
        """Its id on the page, where errors lead to."""
        return self.ident or self.name


@dataclass(frozen=True)
class Form:
    """A form page: its heading, its fields, the schema that validates it, and the word on its button."""

    title: str
    fields: Sequence[Field]
    schema: Schema
    button: str
    template: str = "form.html"
    intro: str = ""

    @property
    def has_files(self) -> bool:
        return any(one.kind == "file" for one in self.fields)

    @property
    def groups(self) -> list[tuple[str, list[Field]]]:
        return [(group, list(fields)) for group, fields in groupby(self.fields, lambda one: one.group)]

    def named(self, name: str) -> Field | None:
        return next((one for one in self.fields if one.name == name), None)

    def holder_of(self, path: str) -> str:
        """The field that a fault at `path` stands with: itself, the one that holds it, or the first below it."""
        below = [one.name for one in self.fields if one.name.startswith(f"{path}.") and one.kind != "hidden"]
        while path and not self.named(path) and not below:
            path = path.rpartition(".")[0]
        return path if self.named(path) else "".join(below[:1])


def grouped(
    group: str, fields: Sequence[Field], prefix: str = "", folded: bool = False, adds: bool = False
) -> list[Field]:
    """The fields under one heading, their names below `prefix`."""
    return [replace(one, group=group, name=f"{prefix}{one.name}", folded=folded, adds=adds) for one in fields]
