"""What is measured once fills a part: only its empty blanks, with plain values, in every kind in the same way."""

from copy import deepcopy
from typing import Any

import pytest

from portal.layouts.form import Form, Part, narrowed, paths
from portal.layouts.kinds import KINDS, lay_out
from portal.layouts.length import DimensionError
from portal.layouts.pulls.form import PLACED
from portal.layouts.sizes.picking import FIRM, HOUSE, OURS, USUAL_SIZES, Size, fills, kept_of, resolved
from portal.layouts.sizes.whats import WHATS
from portal.web.forms.nesting import value_at
from tests.layouts.decks import deck_json

TOP = Size("7", "top", "Window wall", {"length": "60 in", "depth": "25-1/2 in", "thickness": "30 mm"}, "Sam, Nov 3",
           HOUSE)
FAUCET = Size("8", "faucet", "the tall one", {
    "holes": "1", "hole": "1-3/8 in", "base": "2 in", "thickest_top": "2-1/2 in", "plate_length": "10 in",
    "plate_width": "2-1/2 in"}, "its maker's sheet", FIRM)  # fmt: skip
SHOP = Size("9", "shop", "Pell Harbor Stone", {
    "between_holes": "2 in", "seam_to_cutout": "4 in", "smallest_radius": "3/8 in"},
    "Pell Harbor Stone, sheet of the shop", FIRM)  # fmt: skip
KEPT = {size.key: size for size in (TOP, FAUCET, SHOP, *USUAL_SIZES)}


def filled(kind: str, dimensions: Any) -> Any:
    return resolved(KINDS[kind].FORM, dimensions, KEPT.get)


def parts(form: Form, what: str) -> list[Part]:
    return [part for part in form if what in [pick.what for pick in part.picks]]


@pytest.mark.parametrize("kind", KINDS)
def test_what_fills_a_blank_is_of_its_sort(kind: str) -> None:
    """So that whatever may be kept may be read by the kind, too."""
    form = KINDS[kind].FORM
    blanks = {path.replace(".0.", "."): blank for path, blank in paths(form)}
    assert any(part.picks for part in form)
    for part in form:
        for pick in part.picks:
            fields = {field.name: field for field in WHATS[pick.what].fields}
            for blank, field in pick.paths(part.path):
                target = blanks[blank]
                assert field in (*fields, "name", "source"), (kind, part.path, field)
                if field in fields:
                    assert (target.holds, target.choices) == (fields[field].holds, fields[field].choices), field


def test_every_thing_that_may_be_kept_fills_something_and_all_of_it_is_of_use() -> None:
    used = {(pick.what, field) for kind in KINDS.values() for part in kind.FORM for pick in part.picks
            for _, field in pick.fills}  # fmt: skip
    assert {(what, field.name) for what, one in WHATS.items() for field in one.fields} <= used


def test_one_top_that_was_measured_once_is_the_same_in_three_kinds() -> None:
    assert filled("deck", {"top": {"kept": 7}})["top"] == {"width": "60 in", "depth": "25-1/2 in", "thickness": "30 mm"}
    seam = filled("seam", {"kept": 7, "density": 2650})
    assert seam == {"length": "60 in", "depth": "25-1/2 in", "thickness": "30 mm", "density": 2650}
    overhang = filled("overhang", {"kept": [7, 9], "overhang": "10 in"})
    assert overhang == {"length": "60 in", "width": "25-1/2 in", "thickness": "30 mm", "smallest_radius": "3/8 in",
                        "overhang": "10 in"}


def test_what_is_given_besides_wins_and_null_keeps_a_blank_empty() -> None:
    top = filled("deck", {"top": {"kept": 7, "width": "61 in", "thickness": None}})["top"]
    assert top == {"width": "61 in", "depth": "25-1/2 in", "thickness": None}


def test_what_lies_within_comes_along_unless_it_is_said_to_be_none() -> None:
    assert filled("deck", {"faucet": {"kept": 8}})["faucet"]["plate"] == {"length": "10 in", "width": "2-1/2 in"}
    own = filled("deck", {"faucet": {"kept": 8, "plate": {"length": "9 in"}}})["faucet"]["plate"]
    assert own == {"length": "9 in", "width": "2-1/2 in"}
    assert filled("deck", {"faucet": {"kept": 8, "plate": None}})["faucet"]["plate"] is None


def test_the_source_of_limits_is_whose_sheet_it_is() -> None:
    assert filled("seam", {"minimums": {"kept": 9}})["minimums"] == {
        "to_cutout": "4 in", "cutout_radius": "3/8 in", "source": SHOP.source}


def test_what_comes_out_is_laid_out_as_if_it_had_been_typed() -> None:
    typed = deck_json()
    picked = deck_json(top={"kept": 7, "splash": "3/4 in"})
    sent = deepcopy(picked)
    titles = [layout.title for layout in lay_out("deck", filled("deck", picked))]
    assert titles == [layout.title for layout in lay_out("deck", typed)]
    assert picked == sent, "what was sent is left alone"


def test_a_usual_hole_is_picked_by_its_use_and_its_flange_is_still_asked() -> None:
    soap = filled("deck", {"accessories": [{"kept": "soap"}]})["accessories"][0]
    assert soap == {"name": "soap dispenser", "use": "soap", "hole": "1-1/4 in", "lasts": "about a year",
                    "lasts_source": "common practice"}
    tap = filled("deck", {"accessories": [{"kept": "hot_water", "hole": "1-3/8 in"}]})["accessories"][0]
    assert tap == {"name": "hot water tap", "use": "hot_water", "hole": "1-3/8 in"}
    assert all(one.owner == OURS for one in USUAL_SIZES)
    with pytest.raises(DimensionError) as refused:
        lay_out("deck", filled("deck", deck_json(accessories=[{"kept": "soap"}])))
    assert refused.value.field == "accessories.0.flange"


@pytest.mark.parametrize(("dimensions", "field", "why"), [
    ({"top": {"kept": 70}}, "top.kept", "“70” is nothing that is kept"),
    ({"top": {"kept": 8}}, "top.kept", "is “the tall one”, which does not go there; choose of: top"),
    ({"accessories": [{}, {"kept": [7]}]}, "accessories.1.kept", "does not go there"),
    ({"top": {"kept": {"id": 7}}}, "top.kept", "must be what names a kept size"),
    ({"top": {"kept": True}}, "top.kept", "must be what names a kept size"),
    ({"top": {"kept": [7] * 5}}, "top.kept", "at most 4"),
])  # fmt: skip
def test_what_can_not_be_picked_is_refused_by_its_field(dimensions: Any, field: str, why: str) -> None:
    with pytest.raises(DimensionError, match=why) as refused:
        filled("deck", dimensions)
    assert refused.value.field == field


@pytest.mark.parametrize("odd", [None, [], "60 in", {"top": "60 in"}, {"top": ["kept"]}, {"accessories": {"kept": 7}},
                                 {"accessories": ["soap"]}, {"faucet": None}])  # fmt: skip
def test_what_has_another_shape_is_left_for_the_kind_to_refuse(odd: Any) -> None:
    assert filled("deck", odd) == odd


def test_where_nothing_may_be_picked_kept_is_a_field_that_there_is_not() -> None:
    with pytest.raises(DimensionError, match="is not a field here") as refused:
        lay_out("deck", filled("deck", deck_json(place={"kept": 7})))
    assert refused.value.field == "place.kept"


def test_what_a_designer_may_place_is_not_picked() -> None:
    assert not any(part.picks for part in narrowed(KINDS["pulls"].FORM, PLACED))


def test_what_was_typed_is_kept_by_the_fields_of_the_thing_and_fills_again_what_it_was() -> None:
    """A kept thing that is picked in the part that it was kept from gives the part back."""
    data = deck_json()
    for part in KINDS["deck"].FORM:
        for pick in part.picks:
            path = f"{part.path}.0" if part.rows else part.path
            kept = kept_of(part, path, pick.what, data)
            size = Size("1", pick.what, kept.pop("name", ""), kept, kept.pop("source", ""), HOUSE)
            given = fills(part, path, size, lambda at: None)
            assert given == {blank: value_at(data, blank) for blank, _ in pick.paths(path) if value_at(data, blank)}
            assert given or part.path == "cap"
    assert kept_of(parts(KINDS["deck"].FORM, "top")[0], "top", "shop", data) == {}


def test_a_source_stands_for_no_figure_but_its_own() -> None:
    """Whoever types another limit says who gives it."""
    form, radius = KINDS["seam"].FORM, {"cutout_radius": "3/8 in"}
    other = resolved(form, {"minimums": {"kept": 9, "to_cutout": "3 in"}}, KEPT.get)
    assert other == {"minimums": {"to_cutout": "3 in", **radius}}
    same = resolved(form, {"minimums": {"kept": 9, "to_cutout": "4 in"}}, KEPT.get)
    assert same == {"minimums": {"to_cutout": "4 in", **radius, "source": SHOP.source}}
    more = resolved(form, {"minimums": {"kept": 9, "piece": "2 ft"}}, KEPT.get)
    assert more == {"minimums": {"to_cutout": "4 in", "piece": "2 ft", **radius, "source": SHOP.source}}
    soap = resolved(KINDS["deck"].FORM, {"accessories": [{"kept": "soap", "lasts": "9 years"}]}, KEPT.get)
    assert "lasts_source" not in soap["accessories"][0] and soap["accessories"][0]["hole"] == "1-1/4 in"


def test_a_top_brings_its_material_along_to_where_it_is_asked() -> None:
    marble = Size("5", "top", "Vanity", {"length": "48 in", "material": "marble"}, "Sam", HOUSE)
    sent = {"top": {"kept": 5}}
    assert resolved(KINDS["deck"].FORM, sent, {"5": marble}.get) == {"top": {"width": "48 in"}, "material": "marble"}
    own = resolved(KINDS["deck"].FORM, sent | {"material": "granite"}, {"5": marble}.get)
    assert own["material"] == "granite"
