"""All that is wrong with what was typed into a kind's blanks, each fault by the input where it stands."""

import re
from typing import Any

from portal.api.http.dimensions import nested_messages
from portal.layouts.form import paths
from portal.layouts.kinds import kind_named
from portal.layouts.length import DimensionError
from portal.web.forms.blanks import PREFIX, groups
from portal.web.forms.nesting import Positions, faults

Faults = dict[str, list[str]]
_CODE = re.compile(r"\b[a-z]+(?:[._][a-z]+)+\b")


def checked(kind: str, dimensions: dict[str, Any], positions: Positions) -> Faults:
    """All that is wrong, by the input where it stands; empty when nothing is."""
    names = [field.name for group in groups(kind) for field in group.fields]
    found: Faults = {}
    try:
        kind_named(kind).from_json(dimensions)
    except DimensionError as error:
        for path, message in faults(nested_messages(error.every), positions):
            found.setdefault(_nearest(f"{PREFIX}{path}", names), []).append(_sentence(kind, message))
    return found


def _sentence(kind: str, message: str) -> str:
    """A fault as the form says it: what a program calls a blank is called as its label."""
    labels = {path.rpartition(".")[2]: blank.label for path, blank in paths(kind_named(kind).FORM)}
    labels |= {f"{part.path}.{blank.name}": f"{part.title}: {blank.label}"
               for part in kind_named(kind).FORM for blank in part.blanks}
    said = _CODE.sub(lambda code: f"“{labels[code[0]]}”" if code[0] in labels else code[0], message)
    return f"{'These' if said.startswith('are ') else 'This'} {said}."


def _nearest(path: str, names: list[str]) -> str:
    """The input that a fault stands with: the one itself, else the first below it, else none."""
    return next((name for name in names if name == path or name.startswith(f"{path}.")), "")
