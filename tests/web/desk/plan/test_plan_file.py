"""The plan as a file at the desk: taken along, changed, looked at, and taken over as a whole."""

import io

import pytest

from portal.store.rows import plan_rows
from portal.store.tables import Phase, Project
from tests.house import House
from tests.household import PHASES
from tests.web.desk.plan.test_plan_table import NAME, versions
from tests.web.signed_in import Desk

IMPORT = "/desk/projects/7/plan/import"
HEAD = "Phase,Room,Crew,Hours,Not before,Comes after,Wait hours,Comes after 2,Held by\n"


def send(desk: Desk, text: str | bytes, status: int = 200) -> Desk:
    desk.open(IMPORT)
    data = text.encode() if isinstance(text, str) else text
    return desk.post(desk.typed() | {"file": (io.BytesIO(data), "plan.csv")}, status)


def plan() -> list[object]:
    return [(row.__data__, plan_rows.links_of(row.id), plan_rows.held_by(row.id)) for row in plan_rows.phases(7)]


def test_what_was_taken_along_changes_nothing(manager: Desk, house: House) -> None:
    before = plan()
    for kind in ("csv", "xlsx"):
        answer = manager.client.get(f"/desk/projects/7/plan.{kind}")
        assert answer.status_code == 200
        assert answer.headers["Content-Disposition"] == f'attachment; filename="plan-14.{kind}"'
        send(manager, answer.data)
        assert "The plan is already as the file has it: there is nothing to save." in manager.says
        assert "Save the plan" not in manager.says and "Leave" not in manager.says
        assert plan() == before


def test_a_sheet_is_looked_at_and_then_taken_over(manager: Desk, house: House) -> None:
    before = versions()
    room = next(row.name for row in plan_rows.rooms(7) if row.id == house.rooms["laundry"])
    send(manager, HEAD + f"Second coat,{room},Painter,6,12/14/2026,{NAME['paint']},24,,\n"
                         f"Third coat,{room},Painter,200.5,,Second coat,,{NAME['sink']},5\n"
                         f"{NAME['shelves']},{room},Joiner,5,,Third coat,12,,\n")  # fmt: skip
    assert "2 new phases, 1 changed." in manager.says
    assert "What it does" in manager.says and "instead of" in manager.says
    assert f"Second coat (new): room: {room}; crew: Painter; hours: 6; not before: Mon Dec 14;" in manager.says
    shelves = manager.says.partition("What changes")[2].rpartition(NAME["shelves"])[2]
    assert "hours: " in shelves and "→ 5;" in shelves and "→ “Third coat” and 12 h" in shelves
    assert versions() == before
    manager.send()
    assert "The plan is saved: 3 lines changed." in manager.says
    third = Phase.get(Phase.name == "Third coat")
    second = Phase.get(Phase.name == "Second coat")
    assert (third.work_likely, str(second.not_before)) == (12030, "2026-12-14")
    assert plan_rows.links_of(third.id) == [(second.id, 0), (house.phases["sink"], 0)]
    assert plan_rows.held_by(third.id) == [house.decisions[5]]
    assert plan_rows.links_of(house.phases["shelves"]) == [(third.id, 720)]


BAD = HEAD + """Twin,,,1,,,,,
twin,,,1,,,,,
,,Crew,1,,,,,
No hours,,,,,,,,
Odd hours,,,soon,,,,,
Odd day,,,1,2026-02-30,,,,
Odd question,,,1,,,,,Which nothing?
Odd name,,,1,,Nowhere,,,
Behind it,,,1,,Odd name,,,
Loop one,,,1,,Loop two,,,
Loop two,,,1,,Loop one,,,
Itself,,,1,,Itself,,,
=1+1,,,1,,,,,
Waits,,,1,,,24,,
No room,Pantry,,1,,,,,
Good,,,1,,,,,
"""


def test_each_line_that_can_t_be_used_is_told_with_what_to_do(manager: Desk, house: House) -> None:
    before = versions()
    send(manager, BAD)
    for said in (
        "There is no room “Pantry” in this house.", "twin (line 3): “twin” stands in line 2, too.",
        "Line 4: It has no name",
        "No hours (line 5): It has no hours.",
        "Odd hours (line 6): “soon” under “Hours” is no number of hours.",
        "Odd day (line 7): “2026-02-30” under “Not before” is no date.",
        "Odd question (line 8): “Which nothing?” under “Held by” is no question",
        "Odd name (line 9): There is no phase “Nowhere”.",
        "Behind it (line 10): It comes after “Odd name”, which can’t be used.",
        "Loop one (line 11): These phases would wait for each other: Loop", "Loop two (line 12): These phases",
        "Itself (line 13): It can’t come after itself.",
        "=1+1 (line 14): “Phase” holds a formula or begins like one.",
        "Waits (line 15): A wait of 24 h is for no phase.",
        "2 new phases, 0 changed, 14 lines that can’t be used.",
    ):  # fmt: skip
        assert said in manager.says, said
    manager.send(status=422)
    assert "14 lines can’t be used" in manager.wrong("leave_out")
    assert versions() == before
    manager.send(leave_out="on")
    assert "2 lines changed. 14 lines of the file were left out." in manager.says
    assert {row.name for row in plan_rows.phases(7)} - {one[1] for one in PHASES.values()} == {"Twin", "Good"}


def test_a_line_behind_a_phase_of_the_house_stands_though_that_phase_s_own_line_can_t_be_used(
    manager: Desk, house: House
) -> None:
    send(manager, HEAD + f"{NAME['paint']},,,soon,,,,,\nThird coat,,,2,,{NAME['paint']},24,,\n")
    assert "1 new phase, 0 changed, 1 line that can’t be used." in manager.says
    manager.send(leave_out="on")
    third = Phase.get(Phase.name == "Third coat")
    assert plan_rows.links_of(third.id) == [(house.phases["paint"], 1440)]


def test_a_house_without_a_number_has_a_file_whose_name_can_be_sent(manager: Desk, house: House) -> None:
    """No web server sends a head with letters beyond those of English (RFC 9110, 5.5)."""
    for name, address, called in (("Łódź house", "", "plan"), ("東京", "１４ Oak Lane", "plan"), ("Oak", "", "plan-O")):
        Project.update(name=name, address=address).where(Project.id == 7).execute()
        answer = manager.client.get("/desk/projects/7/plan.csv")
        assert answer.headers["Content-Disposition"] == f'attachment; filename="{called}.csv"'


@pytest.mark.parametrize("rows", ["[" * 100_000, '[[1e999, ["Phase"]]]', '[[NaN, ["Phase"]]]', "[[1, 2]]", "[]", "{}"])
def test_rows_that_nobody_was_shown_are_not_read(manager: Desk, house: House, rows: str) -> None:
    send(manager, HEAD + "Tile,,,3,,,,,\n")
    manager.send(rows=rows, status=422)
    assert "can’t be read any more" in manager.says


def test_of_lines_that_can_t_be_used_and_others_that_change_nothing_none_is_offered(manager: Desk) -> None:
    send(manager, "Phase,Hours\nTile,soon\n", 422)
    kept = manager.client.get("/desk/projects/7/plan.csv").get_data(as_text=True)
    send(manager, kept + "Odd hours,,,soon\r\n")
    assert "there is nothing to save" in manager.says and "“soon” under" in manager.says
    assert "leave_out" not in manager.typed() and "Save the plan" not in manager.says


def test_a_file_of_which_nothing_can_be_used(manager: Desk, house: House) -> None:
    before = versions()
    send(manager, HEAD + "Tile,,,,,,,,\n", 422)
    assert "No line of the file can be used." in manager.says and "Tile (line 2): It has no hours." in manager.says
    send(manager, "Name,Time\nTile,3\n", 422)
    assert "names no column “Phase” and “Hours”" in manager.says
    send(manager, "", 422)
    assert "The file is empty." in manager.wrong("file")
    manager.post(manager.typed(), 422)
    assert "Choose a file first." in manager.says
    assert versions() == before


def test_a_column_that_is_none_of_a_plan_is_named(manager: Desk, house: House) -> None:
    send(manager, "Phase,Hours,Color,Then wait\nTile,3,red,24\n")
    assert ("No column of a plan, and left out: “Color” and “Then wait”. For “Then wait” write “Wait hours”, if that "
            "is meant. What changes") in manager.says, "a wait that is lost is told before what is saved"


def test_what_was_shown_and_no_form_of_ours_sends(manager: Desk, house: House) -> None:
    send(manager, "Phase,Hours\nTile,3\n")
    for rows in ("no json", "[]", "[[1]]", "[[1, [\"Phase\"]]]"):
        manager.open(IMPORT)
        manager.post(manager.typed() | {"rows": rows}, 422)
        assert "Choose the file once more." in manager.says
