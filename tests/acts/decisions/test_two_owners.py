"""Two owners: where both must agree, each one's choice is kept, and nothing is approved before both chose the same."""

from pathlib import Path

import pytest

from portal.acts.decisions.answers import approve, enter_paper_approval, withdraw
from portal.acts.decisions.asking import answer_question, ask_again, change_decision
from portal.acts.decisions.asking_back import ask_back
from portal.acts.keeping.verifying import verify_project
from portal.acts.plan.starting import start_phase
from portal.acts.refusals import AlreadyApproved, FieldRefused, Held, NotYours
from portal.record.log.heads import Signer
from portal.store.engine.database import close_database
from portal.store.facts import ANOTHER_OPTION, DecisionFact
from portal.store.reading.decision_views import view
from portal.store.reading.desk_lines import computed
from portal.store.reading.snapshot import read_snapshot
from portal.store.tables import Decision, Person, QuestionBack, StaffNotice
from tests.acts.kept import entries, kinds, newest
from tests.demo_house import demo_house
from tests.house import NOW, House

TEXT = "A third one, in the middle."


def both_must(house: House) -> None:
    row = Decision.get_by_id(house.decisions[1])
    change_decision(house.manager, house.project, row.id, row.version, {"approvers": "all"}, NOW)


def yes(house: House, who: str, option: str, now: int = NOW) -> None:
    actor = getattr(house, who)
    approve(actor, house.project, house.decisions[1], revision=1, option=option, name=actor.name, now=now)


def another(house: House, who: str = "co_owner", text: str = TEXT, revision: int = 1) -> QuestionBack:
    return ask_back(
        getattr(house, who), house.project, house.decisions[1], revision=revision, text=text, kind=ANOTHER_OPTION,
        now=NOW,
    )


def fact(house: House) -> DecisionFact:
    return read_snapshot(house.project).decision(house.decisions[1])


def api_state(house: House) -> str:
    return view(Decision.get_by_id(house.decisions[1])).state


def test_where_both_must_agree_a_different_choice_is_kept_and_settles_nothing(house: House) -> None:
    both_must(house)
    yes(house, "homeowner", "a")
    yes(house, "co_owner", "b")
    assert fact(house).differ and fact(house).is_open
    assert [(one.person_id, one.option) for one in fact(house).approvals] == [
        (house.homeowner.id, "a"), (house.co_owner.id, "b")]  # fmt: skip
    assert api_state(house) == "differing"
    told = [one["body"]["option"] for one in entries(house.project) if one["kind"] == "approved"]
    assert told == ["a", "b"]
    with pytest.raises(Held):
        start_phase(house.manager, house.project, house.phases["drill"], now=NOW)


def test_the_managers_are_told_by_mail_that_they_differ_and_that_another_is_wanted(house: House) -> None:
    both_must(house)
    yes(house, "homeowner", "a")
    assert list(StaffNotice.select()) == []
    another(house)
    yes(house, "co_owner", "b")
    told = [(one.staff_id, one.kind) for one in StaffNotice.select().order_by(StaffNotice.id)]
    assert told == [(house.manager.id, "another_option"), (house.manager.id, "they_differ")]


def test_once_one_takes_the_choice_back_and_joins_it_is_approved(house: House) -> None:
    both_must(house)
    yes(house, "homeowner", "a")
    yes(house, "co_owner", "b")
    with pytest.raises(AlreadyApproved, match="Jonas Okafor already approved"):
        yes(house, "co_owner", "a")
    withdraw(house.co_owner, house.project, house.decisions[1], reason="", now=NOW)
    assert (api_state(house), fact(house).differ) == ("asked", False)
    yes(house, "co_owner", "a", NOW + 1)
    assert fact(house).state == "approved" and not fact(house).differ


def test_asking_one_answer_only_settles_nothing_while_they_differ(house: House) -> None:
    """Whoever of them is right is not for us to say."""
    both_must(house)
    yes(house, "homeowner", "a")
    yes(house, "co_owner", "b")
    for approvers in ("any", str(house.homeowner.id)):
        row = Decision.get_by_id(house.decisions[1])
        change_decision(house.manager, house.project, row.id, row.version, {"approvers": approvers}, NOW)
        assert fact(house).state == "asked", approvers
    withdraw(house.co_owner, house.project, house.decisions[1], reason="", now=NOW)
    assert fact(house).state == "approved"


def test_on_paper_the_second_owner_may_choose_differently_too(house: House) -> None:
    both_must(house)
    yes(house, "homeowner", "a")
    enter_paper_approval(
        house.office, house.project, house.decisions[1], revision=1, option="b", person=house.co_owner.id,
        name="Jonas Okafor", now=NOW,
    )
    assert fact(house).differ


def test_what_both_approved_is_chosen_no_more(house: House) -> None:
    both_must(house)
    yes(house, "homeowner", "a")
    yes(house, "co_owner", "a")
    third = Person.create(project=house.project, name="Ada Okafor", role="homeowner")
    with pytest.raises(AlreadyApproved):
        enter_paper_approval(
            house.office, house.project, house.decisions[1], revision=1, option="b", person=third.id,
            name="Ada Okafor", now=NOW,
        )


def test_another_option_is_wanted_on_the_record_and_waits_for_us(house: House) -> None:
    before = len(kinds(house.project))
    wanted = another(house, text=f" {TEXT} ")
    assert (wanted.kind, wanted.text, wanted.person_id) == (ANOTHER_OPTION, TEXT, house.co_owner.id)
    assert kinds(house.project)[before:] == ["another_option_wanted"]
    assert newest(house.project)["body"] == {"decision": 1, "revision": 1, "text": TEXT}
    assert (api_state(house), [one.wants_another for one in fact(house).unanswered]) == ("asked_back", [True])
    line = next(one for one in computed(house.project, NOW).waiting if one.number == 1)
    assert (line.ours, line.another) == (True, True)


def test_a_new_revision_settles_that_another_option_is_wanted(house: House) -> None:
    another(house)
    options = [{"title": "One hole"}, {"title": "A third one"}]
    ask_again(house.manager, house.project, house.decisions[1], {"options": options, "detail": None}, NOW)
    assert (api_state(house), fact(house).unanswered) == ("asked", [])
    approve(house.homeowner, house.project, house.decisions[1], revision=2, option="b", name="Maren Okafor", now=NOW)
    withdraw(house.homeowner, house.project, house.decisions[1], reason="", now=NOW)
    assert api_state(house) == "asked", "nothing is owed to it any more"


def test_our_answer_settles_it_too(house: House) -> None:
    wanted = another(house)
    answer_question(house.manager, house.project, house.decisions[1], wanted.id, answer="It is too thin.", now=NOW)
    assert (api_state(house), fact(house).unanswered) == ("asked", [])


def test_a_question_that_was_only_asked_is_not_settled_by_asking_anew(house: House) -> None:
    ask_back(house.co_owner, house.project, house.decisions[1], revision=1, text="How deep?", now=NOW)
    ask_again(house.manager, house.project, house.decisions[1], {"question": "Which holes, then?"}, NOW)
    assert [one.text for one in fact(house).unanswered] == ["How deep?"]


def test_only_who_is_asked_may_want_another_option_and_in_words(house: House) -> None:
    with pytest.raises(FieldRefused, match="Write first what you want instead"):
        another(house, text="  ")
    row = Decision.get_by_id(house.decisions[1])
    change_decision(
        house.manager, house.project, row.id, row.version, {"approvers": str(house.homeowner.id)}, NOW)
    with pytest.raises(NotYours):
        another(house)


def test_whoever_has_chosen_takes_that_back_before_wanting_another(house: House) -> None:
    both_must(house)
    yes(house, "co_owner", "b")
    with pytest.raises(AlreadyApproved, match="Jonas Okafor already approved"):
        another(house)
    withdraw(house.co_owner, house.project, house.decisions[1], reason="", now=NOW)
    yes(house, "homeowner", "a")
    assert another(house).kind == ANOTHER_OPTION, "the other’s choice is in nobody’s way"


def test_where_one_answer_is_enough_it_settles_what_another_would_want(house: House) -> None:
    yes(house, "homeowner", "a")
    with pytest.raises(AlreadyApproved, match="Maren Okafor already approved"):
        another(house)


def test_differing_choices_and_a_wish_agree_with_the_record(tmp_path: Path) -> None:
    demo = demo_house(tmp_path)
    house, people = demo.project, demo.told.household
    door = Decision.get(Decision.project == house, Decision.number == 5)
    change_decision(demo.told.manager, house, door.id, door.version, {"approvers": "all"}, NOW)
    text = "Give it to my sister."
    ask_back(people[1], house, door.id, revision=1, text=text, kind=ANOTHER_OPTION, now=NOW)
    for person, option in zip(people, "ab", strict=True):
        approve(person, house, door.id, revision=1, option=option, name=person.name, now=NOW)
    signer = Signer(demo.settings.record_key)
    assert (verdict := verify_project(house, signer)).ok, verdict.first_fault
    QuestionBack.update(kind="question").where(QuestionBack.kind == ANOTHER_OPTION).execute()
    assert "a question of the household" in str(verify_project(house, signer).first_fault)
    close_database()
