"""What a stone crew, a plumber and an inspector expect of the plans to start from (common practice)."""

import networkx as nx
import pytest

from portal.content import cures
from portal.folders import CONTENT
from portal.layouts.kinds import KINDS
from portal.planning.starting_plans.files import read_plan
from portal.planning.starting_plans.plans import StartingPlan

ALL = sorted(path.stem for path in (CONTENT / "plans").glob("*.toml"))
WALLS = {"kitchen": "walls", "bath": "backer", "laundry": "walls"}
"""The phase that closes the walls."""
INSIDE = {"kitchen": ("centerline", "wiring"), "bath": ("layout", "niche", "mirror_lamps"), "laundry": ("hookups",)}
"""Questions about what is inside the walls."""
STONE = ("kitchen", "stone_top")


def plan(name: str) -> StartingPlan:
    return read_plan((CONTENT / "plans" / f"{name}.toml").read_text(encoding="utf-8"), f"{name}.toml", cures())


def before(found: StartingPlan, one: str, other: str) -> bool:
    """Whether the phase `one` must be done before `other` may begin."""
    graph = nx.DiGraph((key, phase.key) for phase in found.phases for key, _ in phase.after)
    return bool(nx.has_path(graph, one, other))


def held_by(found: StartingPlan, question: str) -> list[str]:
    return [phase.key for phase in found.phases if question in phase.held_by]


@pytest.mark.parametrize("name", STONE)
def test_sink_and_faucet_are_in_the_house_before_the_top_is_measured(name: str) -> None:
    (delivery,) = [one for one in plan(name).deliveries if "Sink" in one.item]
    assert "faucet" in delivery.item and delivery.phases == ("measure",)


@pytest.mark.parametrize("name", STONE)
def test_seam_and_edge_hold_the_cut_and_holes_hold_the_drill(name: str) -> None:
    found = plan(name)
    assert [held_by(found, key) for key in ("seam", "edge", "holes")] == [["cut"], ["cut"], ["drill"]]
    assert not next(phase for phase in found.phases if phase.key == "measure").held_by
    assert before(found, "measure", "cut") and before(found, "set", "drill") and before(found, "drill", "connect")


@pytest.mark.parametrize("name", STONE)
def test_no_water_before_the_sealant_of_the_sink_has_cured(name: str) -> None:
    connect = next(phase for phase in plan(name).phases if phase.key == "connect")
    assert dict(connect.after)["set"] == cures()["silicone"].minutes
    assert dict(connect.rests) == {"drill": "sink_adhesive"}


@pytest.mark.parametrize("name", ["bath", "kitchen", "stone_top"])
def test_grout_is_sealed_no_sooner_than_it_may_be(name: str) -> None:
    seal = next(phase for phase in plan(name).phases if phase.key == "seal")
    assert dict(seal.after)["grout"] == cures()["grout_seal"].minutes


@pytest.mark.parametrize("name", list(WALLS))
def test_what_is_inside_the_walls_is_asked_before_they_are_closed(name: str) -> None:
    found = plan(name)
    for question in INSIDE[name]:
        holds = held_by(found, question)
        assert holds and all(before(found, phase, WALLS[name]) for phase in holds), question
    assert before(found, "inspection", WALLS[name])


def test_mirror_and_lamps_hold_what_sets_their_boxes_and_what_closes_the_walls() -> None:
    found = plan("bath")
    (asked,) = [one for one in found.decisions if one.kind == "vanity"]
    assert held_by(found, asked.key) == ["rough", "backer"] and asked.room == "bath"
    rough = next(phase for phase in found.phases if phase.key == "rough")
    assert "wiring" in rough.name and WALLS["bath"] == "backer"


@pytest.mark.parametrize("name", ALL)
def test_what_is_asked_by_drawing_holds_some_work(name: str) -> None:
    found = plan(name)
    assert all(held_by(found, one.key) for one in found.decisions if one.kind in KINDS)


@pytest.mark.parametrize("name", list(WALLS))
def test_wires_are_trimmed_and_the_whole_is_inspected_before_the_walk_through(name: str) -> None:
    found = plan(name)
    for phase in ("trim", *(["hood"] if name == "kitchen" else [])):
        assert before(found, phase, "final_inspection"), phase
    assert before(found, "fixtures" if name == "bath" else "connect", "final_inspection")
    assert before(found, "final_inspection", "walk")


@pytest.mark.parametrize("name", ALL)
def test_the_walk_through_comes_last(name: str) -> None:
    found = plan(name)
    assert all(before(found, phase.key, "walk") for phase in found.phases if phase.key != "walk")


def test_the_shower_pan_is_flooded_before_it_is_tiled() -> None:
    """IRC P2503.6: 2 in of water at the threshold for at least 15 minutes."""
    found = plan("bath")
    assert before(found, "waterproof", "flood_test") and before(found, "flood_test", "tile")
    assert dict(next(one for one in found.phases if one.key == "flood_test").rests) == {"waterproof": "membrane"}
    note = next(one.note for one in found.phases if one.key == "flood_test")
    assert "2 in" in note and "15 minutes" in note and "P2503.6" in note
