"""What a phase makes, by the words of the plans to start from and of the trades."""

import pytest

from portal.drawings.vignettes.choosing import parts_made
from portal.drawings.vignettes.parts import OF_THE_ROOM, ON_THE_RUN, STANDING
from tests.planning.starting_plans.test_plans import PLANS, plan

MADE = {
    "Set the base cabinets": {"cabinets"}, "Set the cabinets": {"cabinets", "uppers"},
    "Set the wall cabinets": {"uppers"}, "Hang the cabinet doors": set(), "Set the stone top and its seam": {"top"},
    "Set the vanity and its top": {"vanity"}, "Hang the vanity and its pulls": {"vanity"},
    "Lay the floor tile": {"floor"}, "Grout and seal the floor": {"floor"}, "Lay and finish the floor": {"wood-floor"},
    "Set the floor and shower tile": {"floor", "shower"}, "Grout the splash": {"splash"},
    "Connect the sink, faucet and appliances": {"sink", "cooktop"}, "Hang a new back door": {"door"},
    "PAINT THE LAUNDRY ROOM": {"paint"}, "Rough plumbing, dryer duct and wiring": {"rough"},
    "Take out the old kitchen": set(), "Disconnect the sink and take off the old top": set(),
    "Measure for the stone top": set(), "Drill the holes in the stone top": set(),
    "Flood test of the shower pan": set(),
    "Seal the grout and the joint at the top": set(), "Move in": set(),
}  # fmt: skip


@pytest.mark.parametrize("phase", MADE)
def test_a_phase_makes_what_its_words_say(phase: str) -> None:
    assert set(parts_made(phase)) == MADE[phase]


def test_every_part_that_a_phase_can_make_can_be_drawn() -> None:
    drawn = STANDING.keys() | ON_THE_RUN.keys() | OF_THE_ROOM.keys()
    assert {part for phase in MADE for part in parts_made(phase)} <= drawn


@pytest.mark.parametrize("name", sorted(path.stem for path in PLANS.glob("*.toml")))
def test_each_plan_to_start_from_makes_a_picture(name: str) -> None:
    made = {part for phase in plan(name).phases for part in parts_made(phase.name)}
    assert len(made) >= 3
