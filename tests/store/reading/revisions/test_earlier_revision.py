"""What an earlier revision is said to have been is what it was when another took its place: whatever changed since."""

import random
from collections.abc import Callable
from dataclasses import replace

import pytest

from portal.acts.actor import Actor
from portal.acts.decisions.answers import approve, enter_paper_approval, take_back_paper_approval, withdraw
from portal.acts.decisions.asking import ask_again, ask_decision, change_decision
from portal.acts.firm.projects import add_person, change_person, remove_person
from portal.store import tables
from portal.store.facts import ApprovalFact, DecisionFact
from portal.store.reading.revisions.earlier_revision import in_revision
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import NotFound, Refused
from portal.store.rows import decision_rows
from portal.store.tables import Decision, Person
from tests.house import NOW, House
from tests.store.reading.one_of_each import one_of_each

OPTIONS = [{"title": "This one"}, {"title": "That one"}]


class Story:
    """One decision of the house, and everybody who has a say in it."""

    def __init__(self, house: House, approvers: str = "all") -> None:
        self.house, self.now = house, NOW
        self.decision: int = ask_decision(
            house.manager, house.project, {"question": "Lamp 1?", "options": OPTIONS, "approvers": approvers}, NOW
        ).id

    @property
    def row(self) -> Decision:
        return Decision.get_by_id(self.decision)

    def tick(self) -> int:
        self.now += 60
        return self.now

    def approve(self, actor: Actor) -> None:
        approve(
            actor, self.house.project, self.decision, revision=self.row.revision, option="a", name=actor.name,
            now=self.tick(),
        )  # fmt: skip

    def sign_on_paper(self, person: Actor) -> None:
        enter_paper_approval(
            self.house.office, self.house.project, self.decision, revision=self.row.revision, option="a",
            person=person.id, name=person.name, now=self.tick(),
        )  # fmt: skip

    def withdraw(self, actor: Actor) -> None:
        withdraw(actor, self.house.project, self.decision, reason="", now=self.tick())

    def take_back(self, person: Actor) -> None:
        take_back_paper_approval(
            self.house.office, self.house.project, self.decision, person=person.id, reason="Misread", now=self.tick()
        )

    def approvers(self, who: str) -> None:
        change_decision(
            self.house.manager, self.house.project, self.decision, self.row.version, {"approvers": who}, self.tick()
        )

    def may_approve(self, person: int, may: bool) -> None:
        version = Person.get_by_id(person).version
        change_person(self.house.office, self.house.project, person, version, {"may_approve": may}, self.tick())

    def join(self, name: str) -> int:
        values = {"name": name, "role": "homeowner", "may_approve": True}
        return int(add_person(self.house.office, self.house.project, values, self.tick()).id)

    def leave(self, person: int) -> None:
        remove_person(self.house.office, self.house.project, person, Person.get_by_id(person).version, self.tick())

    def ask_again(self) -> None:
        question = f"Lamp {self.row.revision + 1}?"
        ask_again(self.house.manager, self.house.project, self.decision, {"question": question}, self.tick())

    def revision(self, number: int) -> DecisionFact:
        return in_revision(self.house.project, read_snapshot(self.house.project).decision(self.decision), number)

    def was(self, number: int = 1) -> str:
        return self.revision(number).state


@pytest.fixture
def story(house: House) -> Story:
    return Story(house)


def test_one_of_two_is_not_enough_and_both_are(story: Story, house: House) -> None:
    story.approve(house.homeowner)
    story.ask_again()
    story.approve(house.homeowner)
    story.approve(house.co_owner)
    story.ask_again()
    story.ask_again()
    assert [story.was(number) for number in (1, 2, 3, 4)] == ["asked", "approved", "asked", "asked"]
    assert [len(story.revision(number).approvals) for number in (1, 2, 3)] == [1, 2, 0]


def test_an_earlier_revision_is_as_it_was_asked(story: Story, house: House) -> None:
    story.approve(house.homeowner)
    code = decision_rows.revision(story.decision, 1).check_code
    story.ask_again()
    old = story.revision(1)
    assert (old.revision, old.question, old.check_code, old.questions) == (1, "Lamp 1?", code, ())
    assert [one.name for one in old.approvals] == ["Maren Okafor"]
    assert story.revision(2).question == "Lamp 2?"
    with pytest.raises(NotFound):
        story.revision(3)


def test_each_field_of_an_earlier_revision_is_its_own_and_the_current_one_is_as_it_is(house: House) -> None:
    """Two approvals were given of the first: one was taken back, as was one of the second."""
    mine = one_of_each(2)
    asta, project = mine.people[1], mine.project.id
    row = tables.Approval.create(
        decision=mine.decision, revision=1, option="k1", person=asta, name="Asta", at=NOW
    )
    current, revision = read_snapshot(project).decision(mine.decision.id), mine.revisions[0]
    assert current.withdrawals and in_revision(project, current, 2) is current
    assert in_revision(project, current, 1) == replace(
        current, state="asked", revision=1, question="Question 2.1?",
        options=[{"key": "k1", "title": "K"}], detail=revision.detail,
        check_code="21" * 32, asked_at=revision.asked_at, reason="Reason 2.1", questions=(), withdrawals=(),
        approvals=(ApprovalFact(mine.decision.id, 1, "k1", asta.id, "Asta", row.at),),
    )  # fmt: skip


def test_a_revision_of_another_decision_is_none_of_this_one(house: House) -> None:
    """Decision 1 was asked once, the other one twice."""
    one_of_each(2)
    decision = read_snapshot(house.project).decision(house.decisions[1])
    for number in (0, 2):
        with pytest.raises(NotFound, match="no such revision here"):
            in_revision(house.project, decision, number)


def test_any_one_is_enough_where_any_one_was_asked(house: House) -> None:
    story = Story(house, "any")
    story.ask_again()
    story.approve(house.co_owner)
    story.ask_again()
    assert [story.was(1), story.was(2)] == ["asked", "approved"]


def test_a_named_persons_approval_counts(house: House) -> None:
    story = Story(house, str(house.co_owner.id))
    story.approve(house.co_owner)
    story.ask_again()
    assert story.was() == "approved"


def test_a_signature_on_paper_is_that_of_whoever_signed(story: Story, house: House) -> None:
    story.sign_on_paper(house.homeowner)
    story.ask_again()
    story.sign_on_paper(house.homeowner)
    story.approve(house.co_owner)
    story.ask_again()
    assert [story.was(1), story.was(2)] == ["asked", "approved"]


@pytest.mark.parametrize("back", ["on a screen", "on paper"])
def test_what_was_taken_back_no_longer_counts(story: Story, house: House, back: str) -> None:
    for again in (False, True):
        story.approve(house.homeowner)
        screen, paper = (story.approve, story.withdraw), (story.sign_on_paper, story.take_back)
        give, take = screen if back == "on a screen" else paper
        give(house.co_owner)
        take(house.co_owner)
        if again:
            give(house.co_owner)
        story.ask_again()
    assert [story.was(1), story.was(2)] == ["asked", "approved"]


def test_who_must_approve_now_says_nothing_of_then(story: Story, house: House) -> None:
    story.approve(house.homeowner)
    story.ask_again()
    story.approvers("any")
    assert story.was() == "asked", "two had to approve, and one had"
    story.approve(house.homeowner)
    story.ask_again()
    story.approvers("all")
    assert story.was(2) == "approved", "one was enough, and one had"


def test_who_must_approve_may_change_while_it_is_asked(story: Story, house: House) -> None:
    story.approve(house.homeowner)
    story.approvers(str(house.homeowner.id))
    story.ask_again()
    story.approve(house.homeowner)
    story.approvers("all")
    story.ask_again()
    assert [story.was(1), story.was(2)] == ["approved", "asked"]


def test_a_household_that_changed_afterwards_changes_nothing(story: Story, house: House) -> None:
    story.approve(house.homeowner)
    story.ask_again()
    story.may_approve(house.co_owner.id, False)
    assert story.was(1) == "asked"
    story.approve(house.homeowner)
    story.ask_again()
    story.may_approve(house.co_owner.id, True)
    story.join("Ada Okafor")
    assert story.was(2) == "approved"


def test_whoever_comes_to_what_is_approved_need_not_approve_it_and_whoever_goes_is_not_waited_for(
    story: Story, house: House
) -> None:
    story.approve(house.homeowner)
    story.approve(house.co_owner)
    ada = story.join("Ada Okafor")
    story.ask_again()
    story.approve(house.homeowner)
    story.approve(house.co_owner)
    story.leave(ada)
    story.ask_again()
    assert [story.was(1), story.was(2)] == ["approved", "approved"]


@pytest.mark.parametrize("seed", range(12))
def test_whatever_happens_each_revision_was_what_its_decision_was_at_its_end(house: House, seed: int) -> None:
    """The state that the product kept at the time is the oracle; the record alone has to lead back to it."""
    chance, ended = random.Random(seed), []
    story = Story(house, chance.choice(["any", "all", str(house.homeowner.id)]))
    come: list[int] = []
    people = [house.homeowner, house.co_owner]

    def come_or_go() -> None:
        if come and chance.random() < 0.5:
            story.leave(come.pop())
        else:
            come.append(story.join(f"Guest {story.now}"))

    steps: list[Callable[[], object]] = [
        lambda: story.approve(chance.choice(people)), lambda: story.approve(chance.choice(people)),
        lambda: story.sign_on_paper(chance.choice(people)), lambda: story.withdraw(chance.choice(people)),
        lambda: story.take_back(chance.choice(people)), come_or_go,
        lambda: story.may_approve(chance.choice(people).id, chance.random() < 0.6),
        lambda: story.approvers(chance.choice(["any", "all", str(house.homeowner.id), str(house.co_owner.id)])),
    ]  # fmt: skip
    for _ in range(60):
        try:
            chance.choice(steps)()
        except Refused:
            continue
        if chance.random() < 0.25:
            ended.append(story.row.state)
            story.ask_again()
    assert [story.was(number) for number in range(1, len(ended) + 1)] == ended
    assert {"asked", "approved"} <= set(ended)
