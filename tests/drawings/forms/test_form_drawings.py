"""The picture of each kind's form: every blank has one place, every needed length is written where it is measured or
comes from a list, and what is known is solid."""

import re

import pytest

from portal.drawings.form_kinds import FORM_DRAWINGS, known_of
from portal.drawings.forms.form_drawing import WIDE
from portal.drawings.fronts.front import Stroke, Word
from portal.folders import STATIC
from portal.layouts.form import Form, Part
from portal.layouts.kinds import KINDS, kind_named
from tests.layouts.test_kinds import EXAMPLES

every_kind = pytest.mark.parametrize("kind", KINDS)
HIGH, BROAD = 44, 94  # the input over a picture of 360 units on the narrowest phone that shows it


def paths(form: Form) -> dict[str, tuple[Part, bool]]:
    """Every blank by its path, the first of a list by its number, and whether its part needs it."""
    found = {}
    for part in form:
        for row in range(part.limit) if part.rows else [None]:
            above = ".".join(str(step) for step in (part.path, row) if step not in ("", None))
            for blank in part.blanks:
                needed = part.needed and blank.needed and row in (None, 0)
                found[f"{above}.{blank.name}" if above else blank.name] = (part, needed)
    return found


@every_kind
def test_each_blank_stands_in_the_picture_or_in_one_fold(kind: str) -> None:
    drawing, known = FORM_DRAWINGS[kind], paths(kind_named(kind).FORM)
    assert len({one.path for one in drawing.spots}) == len(drawing.spots)
    assert {one.path for one in drawing.spots} <= set(known)
    for path in known:
        folds = [one for one in drawing.folds if one.holds(path)]
        assert drawing.spot(path) or folds, path
    for fold in drawing.folds:
        assert any(fold.holds(path) for path in known), fold.title


@every_kind
def test_what_is_needed_is_written_where_it_is_measured_or_comes_from_a_list(kind: str) -> None:
    drawing, form = FORM_DRAWINGS[kind], kind_named(kind).FORM
    listed = {(one.path, one.what) for one in drawing.lists}
    filled = {blank for part in form for pick in part.picks for row in ("", ".0")
              if (f"{part.path}{row if part.rows else ''}", pick.what) in listed
              for blank, _ in pick.paths(f"{part.path}.0" if part.rows else part.path)}
    others = {"minimums.source", "people.0.name"}  # who says so is typed once, as is a name
    for path, (_, needed) in paths(form).items():
        assert not needed or drawing.spot(path) or path in filled | others, path
    known = [(part.path, pick.what) for part in form for pick in part.picks]
    assert all((path.removesuffix(".0"), what) in known for path, what in listed)


@every_kind
def test_what_is_folded_of_a_thing_from_a_list_has_a_fold_of_its_own(kind: str) -> None:
    drawing, parts = FORM_DRAWINGS[kind], kind_named(kind).FORM
    assert {fold.of for fold in drawing.folds if fold.of} <= {one.what for one in drawing.lists}
    known = paths(parts)
    for fold in (one for one in drawing.folds if one.of):
        parents = {part.path for path, (part, _) in known.items() if fold.holds(path) and not drawing.spot(path)}
        assert len({path.split(".")[0] for path in parents}) <= 1, "two things under one title"


@every_kind
def test_no_input_covers_another_or_leaves_the_picture(kind: str) -> None:
    drawing = FORM_DRAWINGS[kind]
    for at, one in enumerate(drawing.spots):
        assert BROAD / 2 <= one.x <= WIDE - BROAD / 2 + 8 and HIGH / 2 <= one.y <= drawing.height - HIGH / 2
        for other in drawing.spots[at + 1:]:
            assert abs(one.x - other.x) >= BROAD or abs(one.y - other.y) >= HIGH, (one.path, other.path)


@every_kind
def test_each_place_has_its_class_in_the_style_sheet(kind: str) -> None:
    sheet = (STATIC / "look" / "blanks.css").read_text()
    for one in FORM_DRAWINGS[kind].spots:
        left, top = FORM_DRAWINGS[kind].percent(one)
        assert f".x{left} {{ left: {left}%; }}" in sheet and f".y{top} {{ top: {top}%; }}" in sheet


@pytest.mark.parametrize(("kind", "dimensions"), EXAMPLES)
def test_what_is_measured_is_solid_and_within_the_picture(kind: str, dimensions: dict[str, object]) -> None:
    drawing = FORM_DRAWINGS[kind]
    known = known_of(kind_named(kind).FORM, _texts(dimensions))
    before, after = drawing.draw({}), drawing.draw(known)
    assert known and _dashed(after) < _dashed(before)
    for shape in (*before, *after):
        if isinstance(shape, Word):
            low, high = shape.limits
            assert low >= -4 and high <= WIDE + 8, shape.text
        if isinstance(shape, Stroke):
            first = re.match(r"M(-?[0-9.]+) (-?[0-9.]+)", shape.d)
            assert first and -10 <= float(first[1]) <= WIDE + 10 and -10 <= float(first[2]) <= drawing.height + 10


def test_a_sink_farther_to_the_right_is_drawn_farther_to_the_right() -> None:
    near, far = ({"top.width": 2400.0, "cutout.from_left": at, "cutout.width": 700.0} for at in (300.0, 1200.0))
    assert FORM_DRAWINGS["deck"].draw(near) != FORM_DRAWINGS["deck"].draw(far)


def test_lengths_that_can_not_be_read_are_not_known() -> None:
    texts = {"top.width": "96 in", "top.depth": "1-3", "faucet.holes": "1", "accessories.0.hole": "35 mm"}
    assert known_of(kind_named("deck").FORM, texts) == {"top.width": pytest.approx(2438.4), "accessories.0.hole": 35.0}


def _texts(data: object, path: str = "") -> dict[str, str]:
    steps = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    inner = {name: text for step, value in steps
             for name, text in _texts(value, f"{path}.{step}" if path else str(step)).items()}
    return inner or ({path: str(data)} if not isinstance(data, dict | list) else {})


def _dashed(shapes: tuple[object, ...]) -> int:
    return sum("hid" in getattr(one, "look", "").split() for one in shapes)
