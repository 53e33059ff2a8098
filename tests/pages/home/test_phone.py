"""What the office reads out to a caller: the sentences of the page, and no others."""

from datetime import date

from portal.acts.decisions.answers import approve
from portal.pages.finish.done import finish_of
from portal.pages.finish.moved import moved_section
from portal.pages.home.page import render_page
from portal.pages.home.phone import phone_answers
from portal.pages.house.house_section import read_out
from portal.pages.outlook import outlook_of
from portal.store.reading.finish.moves import moved_finish
from portal.store.reading.forecasts import foresee
from portal.store.reading.project_plan import household_of, schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.tables import Visit
from tests.house import NOW, House, at

TODAY = date(2026, 12, 2)


def answers(house: House) -> dict[str, str]:
    snapshot = read_snapshot(house.project)
    schedule = schedule_of(snapshot, NOW)
    outlook = outlook_of(snapshot, schedule)
    finish = finish_of(snapshot, outlook, foresee(snapshot, schedule).forecast)
    moved = moved_section(snapshot, moved_finish(snapshot, schedule), TODAY)
    there = household_of(snapshot, outlook.booked)
    tonight = read_out(snapshot, there, TODAY, NOW)
    found = phone_answers(snapshot, outlook, there, finish, moved, TODAY, tonight)
    return {one.asked: " ".join(one.sentences) for one in found}


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
    for asked in ("When is it done?", "What does it cost?"):
        assert said[asked].split(".")[0].split(", by today")[0] in page
    assert said["What does it cost?"].startswith("Price: $")


def test_crews_presence_and_choices_are_answered(house: House) -> None:
    said = answers(house)
    crews = said["When does each crew come?"]
    assert crews.startswith("Carpenters: at work now; Stone crew: tomorrow, Thu Dec 3;")
    assert "; Painter: Wed Dec 9;" in crews
    assert said["Must somebody be home?"] == "No visit in the next two weeks asks for it."
    assert "Who runs our job?" not in said
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor", now=NOW)
    first = read_snapshot(house.project).decision(house.decisions[1])
    assert answers(house)["What did we choose?"].startswith(f"“{first.question}”: {first.option('a')['title']}.")


def test_nights_and_days_to_plan_for_are_read_out(house: House) -> None:
    assert "In the night of Wed Dec 2 no toilet can be used" in answers(house)["What works tonight?"]
