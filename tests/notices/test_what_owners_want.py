"""Letters to the managers of what owners want: that they differ and must be called, that another option is wanted."""

from portal.acts.decisions.answers import approve, withdraw
from portal.acts.decisions.asking import answer_question, change_decision
from portal.acts.decisions.asking_back import ask_back
from portal.notices.letter import Letter
from portal.notices.to_staff.letters import STAFF_KINDS, StaffReader
from portal.store.facts import ANOTHER_OPTION
from portal.store.reading.snapshot import read_snapshot
from portal.store.tables import Decision, StaffNotice
from tests.house import NOW, House

DESK = "http://localhost/desk/projects/7/"


def letter(house: House) -> Letter | None:
    """The newest that waits for the managers."""
    notice = StaffNotice.select().order_by(StaffNotice.id.desc()).first()
    reader = StaffReader(house.manager.id, "Dana Whitcombe", read_snapshot(house.project), NOW, DESK)
    return STAFF_KINDS[notice.kind](reader, notice.about)


def choose(house: House, who: str, option: str) -> None:
    actor = getattr(house, who)
    approve(actor, house.project, house.decisions[1], revision=1, option=option, name=actor.name, now=NOW)


def test_that_they_differ_names_both_choices_and_whom_to_call_until_they_agree(house: House) -> None:
    row = Decision.get_by_id(house.decisions[1])
    change_decision(house.manager, house.project, row.id, row.version, {"approvers": "all"}, NOW)
    choose(house, "homeowner", "a")
    choose(house, "co_owner", "b")
    found = letter(house)
    assert found is not None and found.subject == "Okafor house, decision 1: they differ, please call"
    words = " ".join(found.paragraphs)
    assert "Maren chose “One hole: the faucet” and Jonas chose" in words
    assert "Maren Okafor: 218-555-01" in words and f"{DESK}decisions/{row.id}/" in words
    withdraw(house.co_owner, house.project, row.id, reason="", now=NOW)
    assert letter(house) is None


def test_that_another_option_is_wanted_is_told_in_their_words_until_it_is_settled(house: House) -> None:
    wanted = ask_back(house.co_owner, house.project, house.decisions[1], revision=1, text="Three holes",
                      kind=ANOTHER_OPTION, now=NOW)  # fmt: skip
    found = letter(house)
    assert found is not None and found.subject == "Okafor house, decision 1: Jonas Okafor wants another option"
    assert "In their words: “Three holes”" in found.paragraphs
    answer_question(house.manager, house.project, house.decisions[1], wanted.id, answer="It is too small.", now=NOW)
    assert letter(house) is None
