"""The clock is set back: the numbers of the entries give the order, and the entry says that the clock moved."""

import json

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again
from portal.acts.keeping.verifying import verify_project
from portal.pages.evidence.record_page import render_record
from portal.record.log.heads import Signer
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import record_rows
from tests.demo_house import DemoHouse
from tests.house import NOW

HOUR = 3600


def last(demo: DemoHouse) -> dict:
    return json.loads(list(record_rows.every(demo.project))[-1][2])


def ask(demo: DemoHouse, words: str, now: int) -> dict:
    ask_again(demo.told.manager, demo.project, demo.told.decisions[0], {"question": words}, now)
    return last(demo)


def test_sequence_decides_and_the_entry_says_that_the_clock_moved(demo: DemoHouse) -> None:
    before, after = ask(demo, "One?", NOW), ask(demo, "Two?", NOW - HOUR)
    assert "clock_moved" not in before and after["clock_moved"] is True
    assert after["sequence"] == before["sequence"] + 1 and after["at"] < before["at"]
    approve(demo.told.household[0], demo.project, demo.told.decisions[0], revision=3, option="a", name="Maren Okafor",
            now=NOW - HOUR + 1)
    assert "clock_moved" not in last(demo), "only the first entry after it says so"


def test_it_verifies_and_verification_says_how_often(demo: DemoHouse) -> None:
    signer = Signer(demo.settings.record_key)
    ask(demo, "One?", NOW)
    moved = sum("clock_moved" in json.loads(text) for _, _, text in record_rows.every(demo.project))
    ask(demo, "Two?", NOW - HOUR)
    verdict = verify_project(demo.project, signer)
    assert verdict.ok
    times = "once" if moved == 0 else f"{moved + 1} times"
    assert f"The clock was set back {times}." in str(verdict)


def test_the_page_of_the_record_says_it_and_keeps_the_order(demo: DemoHouse) -> None:
    ask(demo, "One?", NOW)
    ask(demo, "Two?", NOW - HOUR)
    page = render_record(read_snapshot(demo.project), list(record_rows.every(demo.project)), NOW)
    page = page.partition("Everything: ")[2]
    assert page.index("“Two?” The clock had been set back before this.") < page.index("“One?”")


def test_the_same_second_again_is_no_clock_that_moved(demo: DemoHouse) -> None:
    ask(demo, "One?", NOW)
    assert "clock_moved" not in ask(demo, "Two?", NOW)
