"""A check code tells the crew whether their sheet is still the approved revision, and tells nobody anything else."""

import pytest
from flask.testing import FlaskClient

from portal.acts.decisions.answers import approve, enter_paper_approval, take_back_paper_approval, withdraw
from portal.acts.decisions.asking import ask_again, ask_decision
from portal.store.rows import decision_rows
from tests.house import NOW, House
from tests.served import serve_house


@pytest.fixture
def client(house: House, tmp_path: object) -> FlaskClient:
    return serve_house(tmp_path).test_client()  # type: ignore[arg-type]


def code_of(house: House, number: int, revision: int = 1) -> str:
    return decision_rows.revision(house.decisions[number], revision).check_code


def says(client: FlaskClient, code: str, status: int = 200) -> str:
    answer = client.get(f"/check/{code}/")
    assert answer.status_code == status
    assert answer.headers["Cache-Control"] == "no-store"
    return answer.get_data(as_text=True).replace("\u00a0", " ")


def test_the_approved_revision_is_said_to_be_approved_with_its_date(house: House, client: FlaskClient) -> None:
    page = says(client, code_of(house, 3))
    assert "<h1>This is the approved revision</h1>" in page
    assert "Decision 3, revision 1, was approved on Tue Nov 24, 7:42 pm: “In the middle of each drawer”." in page
    assert "Work to no sheet of another option" in page


def test_a_sheet_of_another_option_of_the_approved_revision_must_not_be_drilled(
    house: House, client: FlaskClient
) -> None:
    """One hole is approved, taken back, and two are approved: both sheets have the same revision and check code."""
    code, decision = code_of(house, 1), house.decisions[1]
    for option in ("a", "b"):
        approve(house.homeowner, house.project, decision, revision=1, option=option, name="Maren Okafor", now=NOW)
        if option == "a":
            withdraw(house.homeowner, house.project, decision, reason="", now=NOW)
    old, new = (client.get(f"/check/{code}/?option={option}").get_data(as_text=True) for option in ("a", "b"))
    assert "<h1>This sheet is for another option</h1>" in old and "Do not drill or cut by this sheet" in old
    assert "<h1>This is the approved revision</h1>" in new


def test_what_is_not_yet_approved_must_not_be_drilled(house: House, client: FlaskClient) -> None:
    page = says(client, code_of(house, 1))
    assert "<h1>This is not approved</h1>" in page and "Do not drill or cut by this sheet" in page


def test_a_replaced_revision_names_the_newest(house: House, client: FlaskClient) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Two holes or three?"}, NOW)
    page = says(client, code_of(house, 1))
    assert "<h1>This revision was replaced</h1>" in page
    assert "Decision 1, revision 1, was replaced on Wed Dec 2, 7:30 am. The newest is revision 2." in page
    assert "<h1>This is not approved</h1>" in says(client, code_of(house, 1, 2))


@pytest.mark.parametrize("given", [0, 1, 2])
def test_of_two_who_must_approve_both_count_and_a_replaced_revision_is_never_said_to_be_approved(
    house: House, client: FlaskClient, given: int
) -> None:
    question = {"question": "Which lamp?", "options": [{"title": "This one"}], "approvers": "all"}
    decision = ask_decision(house.manager, house.project, question, NOW)
    for person in (house.homeowner, house.co_owner)[:given]:
        approve(person, house.project, decision.id, revision=1, option="a", name=person.name, now=NOW)
    code = decision_rows.revision(decision.id, 1).check_code
    assert ("This is the approved revision" in says(client, code)) is (given == 2)
    assert ("This is not approved" in says(client, code)) is (given < 2)
    ask_again(house.manager, house.project, decision.id, {"question": "Which lamp now?"}, NOW)
    page = says(client, code)
    assert "<h1>This revision was replaced</h1>" in page and "approved" not in page.partition("<h1>")[2]


def test_a_signature_on_paper_counts_like_one_on_a_screen(house: House, client: FlaskClient) -> None:
    enter_paper_approval(
        house.office, house.project, house.decisions[1], revision=1, option="a", person=house.homeowner.id,
        name="Maren Okafor",
        now=NOW,
    )  # fmt: skip
    assert "This is the approved revision" in says(client, code_of(house, 1))
    take_back_paper_approval(
        house.office, house.project, house.decisions[1], person=house.homeowner.id, reason="Misread", now=NOW
    )
    assert "This is not approved" in says(client, code_of(house, 1))


def test_an_approval_taken_back_no_longer_counts(house: House, client: FlaskClient) -> None:
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    assert "This is the approved revision" in says(client, code_of(house, 1))
    withdraw(house.homeowner, house.project, house.decisions[1], reason="", now=NOW)
    assert "This is not approved" in says(client, code_of(house, 1))


@pytest.mark.parametrize("cut", [12, 24, 32, 63])
def test_part_of_the_code_will_do_if_it_is_long_enough(house: House, client: FlaskClient, cut: int) -> None:
    assert "This is the approved revision" in says(client, code_of(house, 3)[:cut])


def test_the_code_may_be_typed_with_hyphens_and_capitals(house: House, client: FlaskClient) -> None:
    code = code_of(house, 3).upper()
    assert "This is the approved revision" in says(client, "-".join(code[i:i + 4] for i in range(0, 64, 4)))


def test_a_short_or_wrong_code_finds_nothing(house: House, client: FlaskClient) -> None:
    assert "too short" in says(client, code_of(house, 3)[:11], 404)
    wrong = ("0" if code_of(house, 3)[0] != "0" else "1") + code_of(house, 3)[1:]
    assert "No such check code" in says(client, wrong, 404)
    assert "No such check code" in says(client, code_of(house, 3) + "0", 404)
    assert "No such check code" in says(client, "%25" * 30, 404)


def asked(client: FlaskClient, code: str, status: int = 200) -> str:
    answer = client.get("/check/", query_string={"code": code})
    assert answer.status_code == status and answer.headers["Cache-Control"] == "no-store"
    return answer.get_data(as_text=True)


def test_the_form_asks_for_one_code_and_changes_nothing(client: FlaskClient) -> None:
    page = client.get("/check/").get_data(as_text=True)
    assert "<h1>Is this sheet still approved?</h1>" in page
    assert 'method="get"' in page and page.count("<input") == 1 and 'name="code"' in page
    assert client.post("/check/").status_code == 405


def test_the_short_code_as_it_is_printed_is_answered(house: House, client: FlaskClient) -> None:
    code = code_of(house, 3)
    dashed = "-".join((code[:4], code[4:8], code[8:12]))
    for typed in (dashed, code[:12], dashed.upper(), f" {dashed} ", dashed.replace("-", " "), dashed.replace("-", "–")):
        assert "This is the approved revision" in asked(client, typed)
    assert "This is not approved" in asked(client, code_of(house, 1)[:12])


def test_letters_that_no_code_has_are_taken_for_the_digits_that_look_like_them(
    house: House, client: FlaskClient
) -> None:
    code = code_of(house, 3).replace("0", "O").replace("1", "l")
    assert "This is the approved revision" in asked(client, code)


@pytest.mark.parametrize("code", ["0123-4567", "g" * 12, "f" * 65, "0000-0000-0000", "🙂", "..", "a/b/c"])
def test_whatever_finds_nothing_says_not_to_drill_and_asks_again(client: FlaskClient, code: str) -> None:
    page = asked(client, code, 404)
    assert "Do not drill or cut by this sheet. Call the office first." in page and 'name="code"' in page


def test_a_short_code_of_two_sheets_says_not_to_drill(house: House, client: FlaskClient) -> None:
    from portal.store.tables import Decision, Revision

    shown = decision_rows.revision(house.decisions[3], 1)
    other = Decision.create(project=house.other_project, number=3, kind="pulls", state="approved")
    Revision.create(
        decision=other, number=1, question=shown.question, options=shown.options, shown=shown.shown,
        check_code=shown.check_code[:12] + "0" * 52, asked_at=NOW,
    )
    for page in (asked(client, shown.check_code[:12]), says(client, shown.check_code[:12])):
        assert "More than one sheet has this short code" in page and "Do not drill" in page
    assert "This is the approved revision" in asked(client, shown.check_code)


def test_it_tells_nothing_of_house_question_or_household(house: House, client: FlaskClient) -> None:
    for number in house.decisions:
        page = says(client, code_of(house, number))
        for secret in ("Okafor", "Tamarack", "Kitchen", "hole", "pulls", "grout", "$"):
            assert secret not in page


def test_two_houses_shown_the_very_same_must_both_have_approved_it(house: House, client: FlaskClient) -> None:
    from portal.store.tables import Decision, Revision

    shown = decision_rows.revision(house.decisions[3], 1)
    other = Decision.create(project=house.other_project, number=3, kind="pulls")
    Revision.create(
        decision=other, number=1, question=shown.question, options=shown.options, shown=shown.shown,
        check_code=shown.check_code, asked_at=NOW,
    )
    assert "This is not approved" in says(client, shown.check_code)
