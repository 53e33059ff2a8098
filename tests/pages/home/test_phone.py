"""What the office reads out to a caller: the sentences of the page, and no others."""

from datetime import date

from portal.acts.decisions.answers import approve
from portal.pages.finish.done import finish_of
from portal.pages.finish.moved import moved_section
from portal.pages.home.page import render_page
from portal.pages.home.phone import Answer, phone_answers
from portal.pages.house.house_section import read_out
from portal.pages.outlook import outlook_of
from portal.store.reading.finish.moves import moved_finish
from portal.store.reading.forecasts import foresee
from portal.store.reading.project_plan import household_of, schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.tables import Phase, Visit
from tests.house import NOW, House, at

TODAY = date(2026, 12, 2)


def found(house: House) -> list[Answer]:
    snapshot = read_snapshot(house.project)
    schedule = schedule_of(snapshot, NOW)
    outlook = outlook_of(snapshot, schedule)
    finish = finish_of(snapshot, outlook, foresee(snapshot, schedule).forecast)
    moved = moved_section(snapshot, moved_finish(snapshot, schedule), TODAY)
    there = household_of(snapshot, outlook.booked)
    tonight = read_out(snapshot, there, TODAY, NOW)
    return phone_answers(snapshot, outlook, there, finish, moved, TODAY, tonight)


def answers(house: House) -> dict[str, str]:
    return {one.asked: " ".join(line.words for line in one.lines) for one in found(house)}


def book(house: House, day: str) -> None:
    Visit.update(starts_at=at(f"{day}T09:00"), ends_at=at(f"{day}T11:00")).where(
        Visit.id == house.visits["top"]).execute()


def test_who_comes_is_said_in_the_words_of_the_page(house: House) -> None:
    Visit.delete().where(Visit.id != house.visits["top"]).execute()
    book(house, "2026-12-03")
    who = answers(house)["Who comes?"]
    assert who.startswith("Today 8:00 to 4:30: no way through the Kitchen. By the plan; no visit is booked. ")
    page = render_page(read_snapshot(house.project), schedule_of(read_snapshot(house.project), NOW), NOW)
    for words in ("Today 8:00 to 4:30: no way through the Kitchen", "Stone crew 9:00 to 11:00"):
        assert words in who and words in page.replace("\u00a0", " ")


def test_the_finish_and_the_price_are_the_sentences_of_the_page(house: House) -> None:
    snapshot = read_snapshot(house.project)
    page = render_page(snapshot, schedule_of(snapshot, NOW), NOW).replace("\u00a0", " ")
    said = answers(house)
    for asked in ("When done?", "The price?"):
        assert said[asked].split(".")[0].split(", by today")[0] in page
    assert said["The price?"].startswith("Price: $")


def test_presence_and_choices_are_answered(house: House) -> None:
    said = answers(house)
    assert said["Must we be home?"] == "No, no visit in the next two weeks asks for it."
    assert "Who runs it?" not in said
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    first = read_snapshot(house.project).decision(house.decisions[1])
    assert answers(house)["Our choices?"].startswith(f"{first.option('a')['title']} for “{first.question}”")


def test_hours_at_home_come_first_then_what_is_to_be_cleared_after_tomorrow(house: House) -> None:
    """Until then it is told with who comes."""
    asks = [{"service": "at_home", "words": "We ask where the hooks go"}, {"service": "clear", "words": "Empty it."}]
    Phase.update(takes=asks).where(Phase.id == house.phases["top"]).execute()
    book(house, "2026-12-03")
    assert answers(house)["Must we be home?"] == "Tomorrow, Thu Dec 3, 9:00 to 11:00. We ask where the hooks go."
    assert "Kitchen, by 9:00: Empty it." in answers(house)["Who comes?"]
    book(house, "2026-12-07")
    assert answers(house)["Must we be home?"] == (
        "Mon Dec 7, 9:00 to 11:00. We ask where the hooks go. To clear, Mon Dec 7: Kitchen, by 9:00: Empty it.")


def test_the_answer_stands_out_and_what_is_late_is_marked(house: House) -> None:
    lines = {one.asked: one.lines for one in found(house)}
    assert [(line.lead, line.late) for line in lines["What do you need?"]][0] == ("Late since Wed Nov 25:", True)
    assert lines["When done?"][0].lead.startswith("Done ")


def test_nights_and_days_to_plan_for_are_read_out(house: House) -> None:
    assert "In the night of Wed Dec 2 no toilet can be used" in answers(house)["What works?"]
