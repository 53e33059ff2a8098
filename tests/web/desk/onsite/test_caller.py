"""An office day of twenty calls: each answered from the first screen of the house, and nothing opened for it."""

import pytest

from portal.acts.household.crew_notes import write_crew_note
from portal.store.tables import Project, Update
from tests.house import NOW, House
from tests.web.plain import X
from tests.web.signed_in import Desk

CALLS = [
    ("Who comes today?", "Who comes?", "Today 8:00 to 4:30: no way through the Kitchen. Carpenters"),
    ("Can they come?", "Who comes?", "They can come"),
    ("And tomorrow, when?", "Who comes?", "Tomorrow, Thu Dec 3: Tile setter 8:30"),
    ("What works tonight?", "What works tonight?", "Today to Thursday, from "),
    ("Is there a night without a toilet?", "What works tonight?", "no toilet can be used"),
    ("What do you need from us?", "What do you need from us?", "“Which holes do we drill in the stone top"),
    ("By when?", "What do you need from us?", "By "),
    ("Are we late with something?", "What do you need from us?", "Late since"),
    ("You owe me an answer.", "What about our question?", "“Can the ceiling stay as it is?” Our answer is due."),
    ("When is it done?", "When is it done?", "Done "),
    ("What did you promise?", "When is it done?", "Promised "),
    ("What does it cost now?", "What does it cost?", "Price: $"),
    ("Has the stone top come?", "Has it come?", "Stone top: expected"),
    ("When does the tile come?", "Has it come?", "Splash tile: expected"),
    ("What did you do yesterday?", "What was done last?", "Tue Dec 1: The first three base cabinets stand"),
    ("Who works here now?", "", "Under way since Tue Dec 1, Kitchen Set the base cabinets Carpenters, until"),
    ("When does the painter come?", "", "Painter: "),
    ("What comes after that?", "", "Next: "),
    ("Who is to be called there?", "", "Call Maren"),
    ("Who runs our house?", "", "Run by Dana Whitcombe."),
]


@pytest.fixture
def first_view(office: Desk, house: House) -> tuple[str, dict[str, str]]:
    """The words of the first page without what is folded, and the caller's answers by their question."""
    Project.update(responsible=house.manager.id, signed_on="2026-10-15").where(Project.id == house.project).execute()
    office.open("/desk/projects/7/")
    folded = {id(one) for fold in office.page.iter(f"{X}details") for one in fold.iter()}
    words = []
    for one in office.page.iter():
        if id(one) not in folded:
            words += [one.get("aria-label") or "", one.text or ""]
        if id(one) not in folded or one.tag == f"{X}details":
            words.append(one.tail or "")
    listed = next(one for one in office.page.iter(f"{X}dl"))
    rows = [" ".join("".join(row.itertext()).split()) for row in listed.iter(f"{X}div")]
    answers = {asked: row.removeprefix(asked) for row in rows for asked in [row.split("?")[0] + "?"]}
    return " ".join(" ".join(words).split()), answers


def test_twenty_calls_are_answered_from_the_first_screen(first_view: tuple[str, dict[str, str]]) -> None:
    words, answers = first_view
    found = {call: said in (answers.get(asked, "") if asked else words) for call, asked, said in CALLS}
    assert [call for call, there in found.items() if not there] == [], (answers, words)
    assert len(CALLS) == 20


def test_what_is_for_the_crew_stands_in_a_fold_that_says_who_may_hear_it(office: Desk, house: House) -> None:
    write_crew_note(house.homeowner, house.project, {"pets": "A cat."}, now=NOW)
    office.open("/desk/projects/7/")
    fold = next(one for one in office.page.iter(f"{X}details") if one.get("id") == "crew")
    said = " ".join("".join(fold.itertext()).split())
    assert "Read it out to the crew only, and to whoever wrote it." in said and "A cat." in said
    assert office.says.count("A cat.") == 1


def test_a_house_of_which_nothing_is_known_answers_what_it_can(office: Desk, house: House) -> None:
    Update.delete().execute()
    says = office.open("/desk/projects/8/").says
    assert "There is no plan yet." in says and "Nothing is in the way." in says
    assert "Who comes?" in says and "When is it done?" not in says and "What was done last?" not in says


def test_the_office_hears_the_caller_before_it_reads_what_is_in_the_way(office: Desk, manager: Desk) -> None:
    for desk, first in ((office, "A caller asks"), (manager, "In the way")):
        says = desk.open("/desk/projects/7/").says
        assert min(("A caller asks", "In the way"), key=says.index) == first
