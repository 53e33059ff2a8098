"""Options that are layouts: each is computed from the decision's dimensions and kept with its drawing.

What is kept is what is shown, and it is all that the sheet is printed from: the crew drills what was approved, whatever
becomes of the programs in between. So nothing of a layout is taken from whoever sends it: it is named, and what is sent
besides its name must be what is computed.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from portal.acts.decisions.failing_layouts import as_offered, without_layout
from portal.drawings.drawing_kinds import drawn
from portal.drawings.layout_answer import answered
from portal.drawings.scenes.scene_json import scene_to_json
from portal.layouts.declared import undeclared
from portal.layouts.former_titles import former_title
from portal.layouts.kept_checks import PARTS, layout_in
from portal.layouts.kinds import KINDS, lay_out, option
from portal.layouts.layout import Layout
from portal.layouts.length import DimensionError
from portal.layouts.naming import named, titled, with_key
from portal.store.refusals import FieldRefused

Values = dict[str, Any]
_MORE = "Send the layout as it is computed from these dimensions, or its key alone."
_UNREADABLE = "What is kept here can’t be read. Send the question and its options anew, without it."
_NO_NAME = "Name the layout by its key or its title, as text."

LONGEST_NAMED = 120
"""Letters of an unknown layout's name that a refusal says back."""


def with_layouts(kind: str, values: Values, asked: Sequence[Values] = ()) -> Values:
    """Make the options of a question of this kind whole, where its `detail.dimensions` are given.

    An option names its layout in `detail.layout`: by its key, by its title, or by the object that the API answered; its
    words are the layout's unless it says its own. `asked`: the options that are asked already; one that comes back as
    it was kept is drawn anew, in the words and by the programs of today. Raises FieldRefused with the path of what
    can't be used, or is not what is computed.
    """
    _refuse_unreadable(values)
    _refuse_undeclared(kind, values)
    values = {**values, **_whole_detail(values)}
    dimensions = (values.get("detail") or {}).get("dimensions")
    if kind not in KINDS or dimensions is None:
        return {**values, "options": _in_words(values["options"])}
    found = layouts_of(kind, dimensions)
    options = [_whole(one, f"options.{index}", found, asked) for index, one in enumerate(values["options"])]
    if not any((one.get("detail") or {}).get("layout") for one in options):
        raise FieldRefused("options", "Offer at least one layout of these dimensions: name it in detail.layout.")
    return {**values, "options": options}


def _refuse_unreadable(values: Values) -> None:
    """What was kept in another shape than ours can be asked again only without it: nobody could say what it shows."""
    named = [("detail", values), *((f"options.{at}.detail", one) for at, one in enumerate(values["options"]))]
    for path, one in named:
        if one.get("detail") and not isinstance(one["detail"], Mapping):
            raise FieldRefused(path, _UNREADABLE)


def _refuse_undeclared(kind: str, values: Values) -> None:
    for path in undeclared(kind, values):
        allowed = "Here go the dimensions alone." if kind in KINDS else "A question of this kind has no details."
        raise FieldRefused(path, f"Unknown field. {allowed} Say it in the words of the question or its options.")


def _whole_detail(values: Values) -> Values:
    """The question's own detail: no drawing belongs there, and an empty place for one is not kept."""
    detail = values.get("detail")
    if not detail or not set(PARTS) & set(detail):
        return {}
    for name in PARTS:
        if detail.get(name) is not None:
            raise FieldRefused(f"detail.{name}", f"A drawing goes with its layout, in an option. {_NO_NAME}")
    return {"detail": {name: value for name, value in detail.items() if name not in PARTS}}


def layouts_of(kind: str, dimensions: Any) -> list[Layout]:
    """Lay out JSON dimensions, best first. Raises FieldRefused below `detail.dimensions`."""
    try:
        return list(lay_out(kind, dimensions))
    except DimensionError as error:
        (field, said), *others = [(f"detail.dimensions.{field}".removesuffix(".dimensions"), f"{field} {message}.")
                                  for field, message in error.every]
        raise FieldRefused(field, said, *others) from error


def kept_layout(one: Mapping[str, Any], found: Sequence[Layout]) -> Layout | None:
    """Find which of these layouts an option was kept with. None: with none, or with one that is no longer among them.

    What was kept before layouts had keys is found by its title.
    """
    layout = layout_in(one)
    if not _is_kept(layout):
        return None
    return with_key(found, layout["key"]) if "key" in layout else named(found, layout["title"])


def _is_kept(layout: Any) -> bool:
    """Whether it is a layout as decisions keep it, with a key or, from before, without."""
    if not isinstance(layout, dict) or not isinstance(layout.get("effects"), list):
        return False
    return all(isinstance(text, str) for text in (layout.get("title"), layout.get("key", ""), *layout["effects"]))


def kept(layout: Layout) -> Values:
    """Write everything that is shown of a layout and printed from it."""
    drawing = drawn(layout)
    page, machine = scene_to_json(drawing.scene), scene_to_json(drawing.for_machine)
    detail = {"layout": layout.to_json(), "drawing": page, "sheet": drawing.sheet_to_json()}
    return detail if machine == page else {**detail, "for_machine": machine}


def without_keys(options: Sequence[Values]) -> list[Values]:
    """Give shown options as they were kept before layouts had keys, to compare them with such ones."""
    return [_without_key(one) for one in options]


def _without_key(one: Values) -> Values:
    layout = layout_in(one)
    if "key" not in layout:
        return one
    less = {name: value for name, value in layout.items() if name != "key"}
    return {**one, "detail": {**one["detail"], "layout": less}}


def _whole(one: Values, path: str, found: list[Layout], asked: Sequence[Values]) -> Values:
    detail = one.get("detail") or {}
    if detail.get("layout") is None:
        return without_layout(_without_parts(one, f"{path}.detail"), path)
    if _is_kept(detail["layout"]) and any(old.get("detail") == detail for old in asked):
        layout = kept_layout(one, found)
        if layout is None:
            raise _no_such(detail["layout"]["title"], f"{path}.detail.layout", found)
        one = {name: text for name, text in one.items() if name not in _said_by_itself(one, detail["layout"])}
    else:
        layout = _sent(detail, f"{path}.detail", found)
    _refuse_title_of_another(one, layout, path, found)
    one = as_offered(one, layout, path, next((old for old in asked if kept_layout(old, [layout])), None))
    words = {name: value for name, value in option(layout).items() if name != "recommended" and not one.get(name)}
    return {**one, **words, "detail": kept(layout)}


def _refuse_title_of_another(one: Values, layout: Layout, path: str, found: Sequence[Layout]) -> None:
    """An option called as another layout of these dimensions is would be approved for what it does not show."""
    said = _plain(one.get("title"))
    others = {_plain(each.title) for each in found if each is not layout}
    if said in others - {_plain(layout.title)}:
        raise FieldRefused(f"{path}.title", f"This is the title of another layout. This one is: “{layout.title}”.")


def _plain(title: Any) -> str:
    return " ".join(str(title or "").casefold().split()).rstrip(" .")


def _said_by_itself(one: Values, layout: Values) -> list[str]:
    """The words of an option that its layout said when it was asked: nobody wrote them, so they are said anew."""
    said = {"title": layout["title"], "effects": " ".join(layout["effects"]),
            "cannot_be_undone": layout.get("cannot_be_undone")}  # fmt: skip
    return [name for name, text in said.items() if one.get(name) == text]


def _sent(detail: Values, path: str, found: list[Layout]) -> Layout:
    """The layout that somebody names. All that they send of it must be what is computed."""
    candidates = list(_candidates(detail["layout"], f"{path}.layout", found))
    wrong = [next(_differences(detail, layout, found), None) for layout in candidates]
    if None not in wrong:
        raise FieldRefused(f"{path}.{wrong[0]}", f"This is not what is computed. {_MORE}")
    return candidates[wrong.index(None)]


def _candidates(name: Any, path: str, found: list[Layout]) -> Iterator[Layout]:
    """The layouts that a name stands for; several only for a title that a rule shows alike."""
    text, field = name, ""
    if isinstance(name, dict):
        field = "key" if name.get("key") is not None else "title"
        text, path = name.get(field), f"{path}.{field}"
    if not isinstance(text, str):
        raise FieldRefused(path, _NO_NAME)
    by_key = with_key(found, text) if field != "title" else None
    layouts = [by_key] if by_key else titled(found, text) if field != "key" else []
    if not layouts:
        raise _no_such(text, path, found)
    yield from layouts


def _differences(detail: Values, layout: Layout, found: list[Layout]) -> Iterator[str]:
    """The paths within the detail at which something was sent that is not what is computed of this layout."""
    sent = detail["layout"]
    if isinstance(sent, dict):
        rank = next(rank for rank, each in enumerate(found, start=1) if each is layout)
        true = answered(layout, rank, drawing="drawing" in sent)
        if sent.get("title") == former_title(layout):
            true["title"] = sent["title"]
        yield from _unlike(sent, true, "layout")
    if set(detail) - {"layout"}:
        true = kept(layout)
        for name, value in detail.items():
            if name not in true:
                yield name
            elif name != "layout":
                yield from _unlike(value, true[name], name)


def _unlike(sent: Any, true: Any, path: str) -> Iterator[str]:
    """Where JSON that was sent differs from what is true; of an object, the fields that do."""
    plain = json.loads(json.dumps(true))
    if not isinstance(sent, dict):
        yield from [path] if sent != plain else []
        return
    yield from (f"{path}.{name}" for name, value in sent.items() if name not in plain or value != plain[name])


def _no_such(name: str, path: str, found: list[Layout]) -> FieldRefused:
    titles = "; ".join(f"“{known.title}”" for known in found[:3])
    short = name if len(name) <= LONGEST_NAMED else f"{name[:LONGEST_NAMED]}…"
    return FieldRefused(path, f"There is no layout “{short}” of these dimensions. The best are: {titles}.")


def _without_parts(one: Values, path: str) -> Values:
    """An option that names no layout: a drawing beside it must not pass for one that was computed, and an empty place
    for one is not kept either."""
    detail = one.get("detail")
    if not detail:
        return one
    for name in PARTS:
        if detail.get(name) is not None:
            raise FieldRefused(f"{path}.{name}", f"A drawing goes with its layout. {_NO_NAME}")
    return {**one, "detail": {name: value for name, value in detail.items() if name not in PARTS}}


def _in_words(options: list[Values]) -> list[Values]:
    """The options of a question without dimensions. A drawing that nobody computed must not pass for one that was."""
    for index, one in enumerate(options):
        if set(PARTS) & set(one.get("detail") or {}):
            raise FieldRefused(f"options.{index}.detail", "A layout comes from detail.dimensions. Give those, too.")
    return [without_layout(one, f"options.{index}") for index, one in enumerate(options)]
