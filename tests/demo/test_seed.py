"""The demo goes by the same plan as everyone who starts from it, and asks while it can still be done."""

import re

from portal.content import cures
from portal.demo import story
from portal.demo.dimensions import DECK
from portal.drawings.form_kinds import FORM_DRAWINGS
from portal.layouts.content_tables.usual import USUAL
from portal.layouts.kinds import KINDS
from portal.layouts.sizes.picking import FIRM, HOUSE, resolved
from portal.planning.starting_plans.plans import StartingPlan
from portal.store.facts import Snapshot
from portal.store.reading.clashes import conflicts_in
from portal.store.reading.label_waits import missing_waits
from portal.store.reading.plans_to_start_from import OURS, starter, usable_plans
from portal.store.reading.project_plan import schedule_of, takes_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.reading.warnings import warnings_in
from portal.store.rows import plan_rows, planned_rows, size_rows
from tests.demo_house import DemoHouse
from tests.house import NOW

INSIDE_WALLS = re.compile(r"wir(?:e|ing)|outlet|switch|light|pipe|duct|stud|blocking", re.IGNORECASE)


def plan() -> StartingPlan:
    return starter(OURS, story.PLAN)


def told(demo: DemoHouse) -> Snapshot:
    return read_snapshot(demo.project)


def test_the_kitchen_has_every_phase_of_its_plan_with_its_waits(demo: DemoHouse) -> None:
    snapshot, ids = told(demo), demo.told.phases
    for phase in plan().phases:
        kept = snapshot.phase(ids[phase.key])
        assert (kept.name, kept.crew, kept.work_likely) == (phase.name, phase.crew, phase.likely)
        rests = dict(phase.rests)
        for before, wait in phase.after:
            hours = story.LABELS[rests[before]] * 60 if before in rests else wait
            assert dict(kept.after)[ids[before]] == hours, (phase.key, before)
        assert [(take.service, take.gate) for take in takes_of(kept)] == [
            (one.take.service, one.take.gate) for one in phase.takes]


def test_no_wait_of_a_label_is_missing_and_every_other_is_the_tables(demo: DemoHouse) -> None:
    snapshot = told(demo)
    assert missing_waits(snapshot, plan_rows.made_from(demo.project), usable_plans(OURS)) == ()
    figures = {0, *(one.minutes for one in cures().values()), *(hours * 60 for hours in story.LABELS.values())}
    assert {wait for phase in snapshot.phases for _, wait in phase.after} <= figures
    assert all(cures()[cure].by_label for cure in story.LABELS)


def test_nothing_is_asked_of_the_inside_of_walls_that_are_closed(demo: DemoHouse) -> None:
    snapshot = told(demo)
    closed = snapshot.phase(demo.told.phases["walls"]).finished_at
    late = [one for one in snapshot.decisions if one.asked_at > (closed or 0)]
    assert closed is not None and late
    asked = [" ".join([one.question, *(option["title"] + option["effects"] for option in one.options)]) for one in late]
    asked += [row.question for row in planned_rows.questions(demo.project)]
    assert [words for words in asked if INSIDE_WALLS.search(words)] == []


def test_its_visits_can_be_kept_and_nothing_began_ahead(demo: DemoHouse) -> None:
    snapshot = told(demo)
    schedule = schedule_of(snapshot, NOW)
    assert conflicts_in(schedule, demo.project) == []
    assert [one.kind for one in warnings_in(snapshot, schedule) if one.kind == "begun_ahead"] == []


def test_sink_and_faucet_came_before_the_top_is_measured(demo: DemoHouse) -> None:
    (sink,) = [one for one in told(demo).deliveries if "faucet" in one.item]
    assert sink.arrived_at is not None and sink.phases == (demo.told.phases["measure"],)


def test_what_was_measured_for_the_holes_is_kept_and_picked_again(demo: DemoHouse) -> None:
    kept = [one for one in size_rows.offered(demo.project) if one.owner in (HOUSE, FIRM)]
    top, shop, faucet = (next(one for one in kept if one.what == what) for what in ("top", "shop", "faucet"))
    assert (top.owner, shop.owner) == (HOUSE, FIRM)
    picked = DECK | {"top": {"kept": top.key}, "minimums": {"kept": shop.key},
                     "faucet": {"name": "faucet", "kept": faucet.key}}
    assert resolved(KINDS["deck"].FORM, picked, {one.key: one for one in kept}.get) == DECK
    listed = {one.what for drawing in FORM_DRAWINGS.values() for one in drawing.lists}
    assert listed <= {one.what for one in kept}, "each list of each form has something to pick"


def test_how_long_a_dispenser_lives_is_said_as_the_table_has_it(demo: DemoHouse) -> None:
    said = " ".join(option["effects"] for one in told(demo).decisions for option in one.options)
    assert f"lives {USUAL['soap'].lasts}, the stone for good ({USUAL['soap'].lasts_source})" in said
