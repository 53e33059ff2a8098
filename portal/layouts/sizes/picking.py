"""Filling a part of a kind's dimensions with what is kept: its blanks that are empty get the kept values, those that
hold something stay. What comes out are plain values, so that a later change of what is kept changes nothing asked."""

from collections.abc import Callable, Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from portal.layouts.content_tables.usual import USUAL, Usual
from portal.layouts.form import Form, Part
from portal.layouts.length import DimensionError
from portal.layouts.sizes.whats import WHATS

KEPT = "kept"
"""The field of a part that names what is kept and fills it: one or several."""

MOST_KEPT = 4


@dataclass(frozen=True)
class Size:
    """What is kept of one thing. `key`: how it is picked, a number, or a word for what is usual. `owner`: whose it is,
    one of OWNERS. `source` is empty where nobody gives a figure."""

    key: str
    what: str
    name: str
    values: Mapping[str, Any]
    source: str
    owner: str

    @property
    def fields(self) -> dict[str, Any]:
        """Give all that may fill a blank: its values, its name and its source."""
        return {**self.values, "name": self.name, "source": self.source}


HOUSE, FIRM, OURS = OWNERS = ("house", "firm", "usual")

Find = Callable[[str], Size | None]
"""Finds what is kept under a key, for the house that is asked about."""


Given = Callable[[str], Any]
"""Gives what a blank holds, by its dotted path from the outermost object; None where nothing."""

_SAYS: Mapping[str, frozenset[str]] = {"source": frozenset(), "lasts_source": frozenset({"lasts"})}
"""A source by its field, and the fields that it says; none: all values of the thing."""


def usual_size(one: Usual) -> Size:
    """Give what usually stands in a hole as something to pick: its use, its hole where there is one, how long it
    lasts. Its flange is on its own sheet alone."""
    values = {"use": one.use, "hole": one.hole, "lasts": one.lasts, "lasts_source": one.lasts_source}
    given = {name: value for name, value in values.items() if value is not None}
    return Size(one.use, "accessory", one.name, given, one.source or "", OURS)


USUAL_SIZES = tuple(usual_size(one) for one in USUAL.values())


def fills(part: Part, path: str, size: Size, given: Given) -> dict[str, Any]:
    """Give what a kept thing may fill where it is picked for the object of a part at this path: values by the dotted
    paths of blanks from the outermost object. `given` says what a blank holds already, None where nothing.

    A source comes along only where all that it says is as it says it: nobody's sheet stands for another figure.
    """
    pairs = [(blank, field) for pick in part.picks if pick.what == size.what for blank, field in pick.paths(path)]
    other = {field for blank, field in pairs if given(blank) not in (None, "", size.fields.get(field))}
    unsaid = {source for source, said in _SAYS.items() if other & (said or size.values.keys())}
    return {blank: size.fields[field] for blank, field in pairs
            if field not in unsaid and size.fields.get(field) not in (None, "")}


def kept_of(part: Part, path: str, what: str, dimensions: Any) -> dict[str, Any]:
    """Turn it around: what may be kept of the object of a part at this path, by the fields of the thing, its name and
    source among them where there are blanks for them. What is empty is left out."""
    found = {field: _at(dimensions, blank)
             for pick in part.picks if pick.what == what for blank, field in pick.paths(path)}
    return {field: value for field, value in found.items() if value not in (None, "")}


def resolved(form: Form, dimensions: Any, find: Find) -> Any:
    """Put what is kept in the place of each `kept`, and leave the dimensions as they were sent alone. Raises
    DimensionError for what is not kept, or doesn't fit there."""
    found = deepcopy(dimensions)
    for part in form:
        for path, inside in _objects(part, found):
            if part.picks and KEPT in inside:
                sizes = _sizes(part, f"{path}.{KEPT}" if path else KEPT, inside.pop(KEPT), find)
                for size in sizes:
                    for blank, value in fills(part, path, size, lambda at: _at(found, at)).items():
                        _put(found, blank, value)
    return found


def _sizes(part: Part, field: str, sent: Any, find: Find) -> Iterator[Size]:
    for key in _keys(sent, field):
        size = find(key)
        if size is None:
            raise DimensionError(field, f"“{key}” is nothing that is kept for this house or by the firm; choose "
                                        "from the list")
        if size.what not in [pick.what for pick in part.picks]:
            fitting = ", ".join(WHATS[pick.what].title.lower() for pick in part.picks)
            raise DimensionError(field, f"is “{size.name}”, which does not go there; choose of: {fitting}")
        yield size


def _keys(sent: Any, field: str) -> list[str]:
    """One key or several, each a number or a word; none of null."""
    keys = sent if isinstance(sent, list) else [] if sent is None else [sent]
    if len(keys) > MOST_KEPT or not all(isinstance(key, int | str) and not isinstance(key, bool) for key in keys):
        raise DimensionError(field, f"must be what names a kept size, or a list of at most {MOST_KEPT}")
    return [str(key) for key in keys]


def _objects(part: Part, data: Any) -> Iterator[tuple[str, dict[str, Any]]]:
    """The objects of a part that are there, each with its dotted path; what has another shape is the kind's to
    refuse."""
    for step in part.path.split(".") if part.path else []:
        data = data.get(step) if isinstance(data, dict) else None
    rows = data if part.rows and isinstance(data, list) else []
    yield from ((f"{part.path}.{row}", one) for row, one in enumerate(rows) if isinstance(one, dict))
    if not part.rows and isinstance(data, dict):
        yield part.path, data


def _put(whole: Any, path: str, value: Any) -> None:
    """Fill one blank, if nothing was given for it; null is something, and says that it is to stay empty."""
    *above, last = path.split(".")
    for step in above:
        whole = whole[int(step)] if isinstance(whole, list) else whole.setdefault(step, {})
        if not isinstance(whole, dict | list):
            return
    whole.setdefault(last, value)


def _at(whole: Any, path: str) -> Any:
    for step in path.split("."):
        inside = dict(enumerate(whole)) if isinstance(whole, list) else whole
        whole = inside.get(int(step) if isinstance(whole, list) else step) if isinstance(inside, Mapping) else None
    return whole
