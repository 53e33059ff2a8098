"""Heights over a vanity as drawn: what was computed at its place, eyes dashed, and nothing that a machine may cut."""

import pytest

from portal.drawings.drawing_kinds import drawn
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Dimension, Label, Line, Rect
from tests.layouts.vanity.test_layout import BATH as DATA
from tests.layouts.vanity.test_layout import found

BATH = found()[0]


def test_mirror_and_lamps_stand_where_they_were_computed() -> None:
    best = BATH
    scene = drawn(best).scene
    frame, glass = sorted((i for i in scene.only(Layer.FRONT) if isinstance(i, Rect)), key=lambda i: -i.height)
    assert (glass.y, glass.height, glass.width) == pytest.approx((45.25 * 25.4, 32 * 25.4, 28 * 25.4))
    assert (frame.y, frame.width) == pytest.approx((44.25 * 25.4, 30 * 25.4))
    lamps = [i for i in scene.only(Layer.FLANGE) if isinstance(i, Rect)]
    assert [lamp.x + lamp.width / 2 for lamp in lamps] == pytest.approx([-19.5 * 25.4, 19.5 * 25.4])
    assert [lamp.y + lamp.height / 2 for lamp in lamps] == pytest.approx([64 * 25.4] * 2)
    told = {i.text for i in scene.items if isinstance(i, Dimension)}
    assert told == {"35 in", "45-1/4 in", "77-1/4 in", "64 in", "28 in", "39 in"}


def test_eyes_are_dashed_lines_and_names_that_are_near_stand_together() -> None:
    third = {"name": "Ida", "eyes": "62 in", "height": "67 in"}
    scene = drawn(found(people=[*DATA["people"], third])[0]).scene
    at = {round(i.y1 / 25.4, 6) for i in scene.only(Layer.UNDERNEATH) if isinstance(i, Line)}
    assert {60, 62, 68} <= at
    assert {"Jonas, eyes", "Ida and Maren, eyes"} <= {i.text for i in scene.items if isinstance(i, Label)}


def test_a_machine_gets_of_a_vanity_only_what_was_given_and_nothing_to_cut() -> None:
    whole, bare = drawn(BATH), drawn(found(mirror={"height": "32 in"})[0])
    cut = (Layer.HOLE, Layer.CUT_OUT, Layer.EDGE, Layer.SEAM)
    assert not whole.for_machine.only(*cut) and not bare.for_machine.only(*cut)
    assert whole.for_machine.only(Layer.FRONT) and not bare.for_machine.only(Layer.FRONT, Layer.CABINET, Layer.PULL)
    assert "Nor is the width of what is dotted" in bare.coordinates.caption
    assert "dotted" not in whole.coordinates.caption


def test_the_sheet_has_the_sash_and_the_eyes_by_which_mirror_and_lamps_hang() -> None:
    details = dict(drawn(BATH).coordinates.details)
    assert details["Lower edge of the sash, above the floor"] == "50 in (1270 mm)"
    assert [details[f"Eyes of {name}, above the floor"] for name in ("Maren", "Jonas")] == [
        "60 in (1524 mm)", "68 in (1727.2 mm)"]
    assert not any("sash" in name for name, _ in drawn(found(window=None)[0]).coordinates.details)
