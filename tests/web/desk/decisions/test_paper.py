"""The paper way at the desk: print the question, enter what was signed, take a slip back."""

import pytest

from portal.acts.decisions.asking import ask_decision
from portal.store.tables import Approval, Decision, Phase
from tests.drawn import deck_question
from tests.house import NOW, House
from tests.web.signed_in import Desk


def at(house: House, way: str = "") -> str:
    return f"/desk/projects/{house.project}/decisions/{house.decisions[1]}/{way}"


def sign(office: Desk, house: House, status: int = 200, **changes: str) -> Desk:
    typed = {"option": "a", "person": str(house.homeowner.id), "name": "Maren Okafor", "signed_on": "2026-12-01"}
    return office.open(at(house, "paper")).send(status=status, **typed | changes)


def test_a_signed_sheet_is_entered(office: Desk, house: House) -> None:
    assert office.open(at(house)).open("paper").typed().items() >= {"option": "", "person": "", "signed_on": ""}.items()
    sign(office, house)
    row = Approval.get(Approval.decision == house.decisions[1])
    assert (row.name, row.entered_by_id, str(row.signed_on)) == ("Maren Okafor", house.office.id, "2026-12-01")
    assert office.path == at(house) and "Keep the sheet: it is the proof." in office.says
    assert "was approved by Maren Okafor on paper, signed Tue Dec 1 (entered by Lou Ferris on" in office.says


@pytest.mark.parametrize("left_out", ["option", "person", "name", "signed_on"])
def test_nothing_is_chosen_in_advance(office: Desk, house: House, left_out: str) -> None:
    sign(office, house, 422, **{left_out: ""})
    assert office.wrong(left_out) == "Please fill this in."
    assert not Approval.select().where(Approval.decision == house.decisions[1]).exists()


def test_another_name_is_entered_only_by_who_has_looked_at_it(office: Desk, house: House) -> None:
    sign(office, house, 422, name="Jonas Okafor")
    assert office.wrong("name").startswith("This is not the name of Maren Okafor.")
    assert "The name on the paper is another: Maren Okafor signed as “Jonas Okafor”" in office.says
    office.send(another_name="on")
    assert Approval.get(Approval.decision == house.decisions[1]).name == "Jonas Okafor"


def test_a_date_to_come_is_refused(office: Desk, house: House) -> None:
    sign(office, house, 422, signed_on="2026-12-03")
    assert "in the future" in office.wrong("signed_on")


def test_a_slip_is_taken_back_with_a_reason(office: Desk, house: House) -> None:
    sign(office, house)
    office.open(f"paper/{house.homeowner.id}/take-back").send(status=422, reason=" ")
    assert office.wrong("reason")
    office.send(reason="The sheet was of decision 2.")
    assert office.path == at(house) and "The decision needs an answer again." in office.says
    assert Decision.get_by_id(house.decisions[1]).state == "asked"
    assert "The sheet was of decision 2." in office.open(f"/desk/projects/{house.project}/record/").says


def test_when_the_work_has_started_nothing_offers_to_take_it_back(office: Desk, house: House) -> None:
    way = f"paper/{house.homeowner.id}/take-back"
    sign(office, house)
    assert way in office.ways
    Phase.update(started_at=NOW, state="under_way").where(Phase.id == house.phases["drill"]).execute()
    assert way not in office.open(at(house)).ways
    office.open(at(house, way)).send(status=409, reason="A slip")
    assert "has started on this approval" in office.says


def test_what_was_never_entered_can_not_be_taken_back(office: Desk, house: House) -> None:
    office.open(at(house, f"paper/{house.homeowner.id}/take-back")).send(status=409, reason="A slip")
    assert "Of decision 1 nothing that was entered from paper stands" in office.says
    office.open(at(house, f"paper/{house.other_homeowner.id}/take-back"), 404)


def test_of_two_who_must_sign_the_second_sheet_can_be_entered_too(office: Desk, house: House) -> None:
    Decision.update(approvers="all").where(Decision.id == house.decisions[1]).execute()
    sign(office, house)
    assert Decision.get_by_id(house.decisions[1]).state == "asked" and "paper" in office.ways
    sign(office, house, person=str(house.co_owner.id), name="Jonas Okafor")
    assert Decision.get_by_id(house.decisions[1]).state == "approved" and "paper" not in office.ways


def test_the_printed_question_holds_all_that_is_shown_on_a_screen(manager: Desk, house: House) -> None:
    manager.open(at(house)).open("paper/print")
    asked = Decision.get_by_id(house.decisions[1])
    revision = asked.revisions.get()
    code = "-".join(revision.check_code[i:i + 4] for i in (0, 4, 8))
    for words in (
        revision.question, code, "Revision 1", "218-555-0142", "Name, in capital letters", "Signature", "Date",
        "Maren Okafor or Jonas Okafor", *(option["title"] for option in revision.options),
        *(option["effects"] for option in revision.options),
        *(option["cannot_be_undone"] for option in revision.options if option.get("cannot_be_undone")),
    ):
        assert words in manager.says, words


def test_everyone_who_must_sign_has_lines_to_sign_on(manager: Desk, house: House) -> None:
    Decision.update(approvers="all").where(Decision.id == house.decisions[1]).execute()
    says = manager.open(at(house, "paper/print")).says
    assert "To be signed by Maren Okafor:" in says and "To be signed by Jonas Okafor:" in says


def test_the_printed_question_shows_the_drawings(manager: Desk, house: House) -> None:
    asked = ask_decision(house.manager, house.project, deck_question(), NOW)
    manager.open(f"/desk/projects/{house.project}/decisions/{asked.id}/paper/print")
    drawn = [one for one in manager.page.iter() if one.tag.endswith("}svg") and one.get("role") == "img"]
    assert len(drawn) == len(deck_question()["options"])


def test_what_is_answered_is_not_to_be_signed_again(office: Desk, house: House) -> None:
    sign(office, house)
    says = office.open(at(house, "paper/print")).says
    assert "This is answered already." in says and "Signature" not in says
