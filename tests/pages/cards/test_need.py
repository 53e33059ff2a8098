"""What the first screen says that we need: how many, how many late, the most urgent; or nothing, and what is next."""

from portal.pages.cards.need import Need, need
from portal.pages.outlook import outlook_of
from portal.store import tables
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.words.dates import local
from tests.house import NOW, ZONE, House
from tests.pages.reading import page_of, words_of


def needed(house: House, now: int = NOW) -> Need:
    snapshot = read_snapshot(house.project)
    return need(snapshot, outlook_of(snapshot, schedule_of(snapshot, now)), local(now, ZONE).date())


def settle_all(house: House) -> None:
    tables.Decision.update(state="asked_back").execute()


def test_it_counts_the_answers_and_those_that_are_late(house: House) -> None:
    found = needed(house)
    assert (found.words, found.late, found.leads) == ("3 questions, 1 late", True, "decisions/2/")
    assert found.more == "Each work day you wait costs one."


def test_without_a_late_one_it_says_by_when_the_first_is_needed(house: House) -> None:
    tables.Decision.update(state="asked_back").where(tables.Decision.id == house.decisions[2]).execute()
    found = needed(house)
    assert (found.words, found.late, found.leads) == ("2 questions", False, "decisions/1/")
    assert found.more.replace("\u00a0", " ") == "The first by Thu Dec 3."


def test_its_sign_says_to_who_can_not_see_the_page_what_it_leads_to(house: House) -> None:
    (card,) = [one for one in page_of(house).root.iter("a") if "need" in (one.get("class") or "")]
    assert words_of(card).endswith("Choose : Which grout color for the splash?") and card.get("href") == "decisions/2/"


def test_nothing_is_needed_and_the_next_question_of_the_plan_is_named(house: House) -> None:
    settle_all(house)
    assert needed(house) == Need("Nothing from you. Thank you.", "")
    tables.PlannedQuestion.create(project=house.project, question="Which sink?", options=[], lead_days=1,
                                  holds=[house.phases["drill"]])  # fmt: skip
    assert needed(house).more.replace("\u00a0", " ") == "The next question comes by Thu Dec 3: Which sink?"
    assert "Which sink?" in " ".join(
        words_of(one) for one in page_of(house).root.iter("p") if "slip" in (one.get("class") or ""))


def test_a_question_of_the_plan_that_is_due_comes_soon(house: House) -> None:
    settle_all(house)
    tables.PlannedQuestion.create(project=house.project, question="Which sink?", options=[], lead_days=90,
                                  holds=[house.phases["drill"]])  # fmt: skip
    assert needed(house).more == "The next question comes soon: Which sink?"


def test_a_hand_over_that_waits_is_needed_too(house: House) -> None:
    settle_all(house)
    one = tables.Handover.create(project=house.project, phase=None, offered_by=house.manager.id, offered_at=NOW)
    found = needed(house)
    assert (found.words, found.leads) == ("1 hand-over to look over", f"handovers/{one.id}/")
    tables.Handover.update(accepted_at=NOW, accepted_name="Maren Okafor").execute()
    assert needed(house).leads == ""
