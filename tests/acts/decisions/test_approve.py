"""Approving: an approval is a fact for good, and only the right person's answer to the right question counts."""

import json
from dataclasses import replace

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again
from portal.acts.decisions.asking_back import ask_back
from portal.acts.refusals import AlreadyApproved, FieldRefused, NotFound, NotYours, Superseded
from portal.store.rows import decision_rows, record_rows
from portal.store.tables import Approval, Decision
from tests.house import NOW, House


def drill(house: House, who: str = "homeowner", **changes: object) -> object:
    values = {"revision": 1, "option": "a", "name": "Maren Okafor", "now": NOW} | changes
    return approve(getattr(house, who), house.project, house.decisions[1], **values)


def kinds(house: House) -> list[str]:
    return [json.loads(canonical)["kind"] for _, _, canonical in record_rows.every(house.project)]


def options_of(house: House) -> list[str]:
    return [option["key"] for option in decision_rows.revision(house.decisions[1], 1).options]


def test_an_approval_is_kept_with_its_name_and_its_record_entry(house: House) -> None:
    before = record_rows.count(house.project)
    approval, new = drill(house, option=options_of(house)[0])
    assert new
    assert Decision.get_by_id(house.decisions[1]).state == "approved"
    assert Approval.get(Approval.decision == house.decisions[1]).name == "Maren Okafor"
    assert kinds(house)[before:] == ["consent_given", "approved"]
    _, _, canonical = list(record_rows.every(house.project))[-1]
    body = json.loads(canonical)["body"]
    assert body["check_code"] == decision_rows.revision(house.decisions[1], 1).check_code
    assert body["name"] == "Maren Okafor"


def test_the_same_approval_sent_twice_is_one(house: House) -> None:
    first, new = drill(house, option=options_of(house)[0])
    again, new_again = drill(house, option=options_of(house)[0], now=NOW + 5)
    assert (new, new_again) == (True, False)
    assert again == first
    assert kinds(house).count("approved") == 1


def test_the_co_owner_may_join_but_not_choose_otherwise(house: House) -> None:
    one, other = options_of(house)[:2]
    drill(house, option=one)
    with pytest.raises(AlreadyApproved, match="Maren Okafor already approved"):
        drill(house, "co_owner", option=other, name="Jonas Okafor")
    approval, new = drill(house, "co_owner", option=one, name="Jonas Okafor")
    assert new and approval.name == "Jonas Okafor"


def test_when_all_must_approve_one_is_not_enough(house: House) -> None:
    Decision.update(approvers="all").where(Decision.id == house.decisions[1]).execute()
    drill(house, option=options_of(house)[0])
    assert Decision.get_by_id(house.decisions[1]).state == "asked"
    drill(house, "co_owner", option=options_of(house)[0], name="Jonas Okafor")
    assert Decision.get_by_id(house.decisions[1]).state == "approved"


def test_when_one_is_named_the_other_can_not_approve(house: House) -> None:
    Decision.update(approvers=str(house.co_owner.id)).where(Decision.id == house.decisions[1]).execute()
    with pytest.raises(NotYours):
        drill(house, option=options_of(house)[0])


def test_a_superseded_revision_is_refused_with_what_changed(house: House) -> None:
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Two holes or three?"}, NOW)
    with pytest.raises(Superseded) as refused:
        drill(house, option=options_of(house)[0])
    assert refused.value.details["changed"] == ["The question is now: “Two holes or three?”."]
    assert record_rows.count(house.project) == 1  # the revision, and no approval
    assert not Approval.select().where(Approval.decision == house.decisions[1]).exists()


def test_a_new_revision_undoes_an_approval(house: House) -> None:
    drill(house, option=options_of(house)[0])
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Two holes or three?"}, NOW)
    assert Decision.get_by_id(house.decisions[1]).state == "asked"


@pytest.mark.parametrize("who", ["manager", "office"])
def test_staff_never_approve_for_the_household(house: House, who: str) -> None:
    with pytest.raises(NotYours):
        drill(house, who, option=options_of(house)[0])


def test_another_household_finds_nothing(house: House) -> None:
    with pytest.raises(NotFound):
        drill(house, "other_homeowner", option=options_of(house)[0])


@pytest.mark.parametrize(
    ("field", "changes"),
    [("option", {"option": "z"}), ("name", {"name": "  "}), ("revision", {"revision": 9})],
)
def test_a_wrong_field_is_named_and_nothing_is_kept(house: House, field: str, changes: dict[str, object]) -> None:
    with pytest.raises(FieldRefused) as refused:
        drill(house, **{"option": options_of(house)[0]} | changes)
    assert refused.value.field == field
    assert record_rows.count(house.project) == 0


def test_a_question_back_waits_for_the_manager(house: House) -> None:
    ask_back(house.homeowner, house.project, house.decisions[1], revision=1, text=" Does it drip? ", now=NOW)
    assert Decision.get_by_id(house.decisions[1]).state == "asked_back"


def test_an_onlooker_of_the_household_can_not_approve(house: House) -> None:
    onlooker = replace(house.homeowner, may_approve=False)
    with pytest.raises(NotYours):
        approve(onlooker, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
