"""Today and next as facts: who comes, whether that can be kept, what it takes."""

from typing import Any

import pytest

from portal.acts.decisions.answers import approve
from portal.pages.days.day_facts import Fact, next_facts
from portal.pages.outlook import outlook_of
from portal.store import tables
from portal.store.reading.project_plan import household_of, schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import House, at
from tests.pages.reading import page_of, words_of


def facts(house: House, when: str = "2026-12-02T07:30") -> list[Fact]:
    snapshot = read_snapshot(house.project)
    outlook = outlook_of(snapshot, schedule_of(snapshot, at(when)))
    return next_facts(snapshot, outlook, household_of(snapshot, outlook.booked))


def said(house: House, when: str = "2026-12-02T07:30") -> list[tuple[str, str]]:
    return [(fact.lead, fact.rest) for fact in facts(house, when)]


def quiet(house: House) -> None:
    """Nothing is taken, nothing is due, nothing is under way."""
    tables.Phase.update(takes=[]).execute()
    tables.Delivery.update(arrived_at=at("2026-12-01T10:00")).execute()
    done = {"state": "done", "finished_at": at("2026-12-01T16:30")}
    tables.Phase.update(**done).where(tables.Phase.state == "under_way").execute()


def takes(house: House, phase: str, *given: dict[str, Any]) -> None:
    tables.Phase.update(takes=list(given)).where(tables.Phase.id == house.phases[phase]).execute()


def book(house: House, visit: str, starts: str, ends: str) -> None:
    values = {"starts_at": at(starts), "ends_at": at(ends)}
    tables.Visit.update(**values).where(tables.Visit.id == house.visits[visit]).execute()


def only(house: House, *visits: str) -> None:
    kept = [house.visits[one] for one in visits]
    tables.Visit.delete().where(tables.Visit.id.not_in(kept)).execute()


def test_who_comes_today_and_tomorrow_and_that_nothing_is_in_their_way(house: House) -> None:
    quiet(house)
    assert said(house) == [
        ("Today, Wednesday: Carpenters 8:00 to 4:30", "They can come."),
        ("Tomorrow, Thu Dec 3: Tile setter 8:30 and Stone crew 9:00", "They can come."),
    ]


def test_they_stand_on_the_first_screen_the_red_one_with_its_word(house: House) -> None:
    page = page_of(house, at("2026-12-08T17:30"))
    (fact,) = (one for one in page.root.iter("p") if one.get("class") == "fact")
    assert words_of(fact).replace("\u00a0", " ").startswith("Painter can’t come tomorrow . It waits for our answer")
    assert next(fact.iter("b")).get("class") == "late"


def test_a_visit_that_can_not_be_kept_is_never_announced_without_that_word(house: House) -> None:
    """The fault that began this: a painter announced for tomorrow who, four screens lower, could not come."""
    (fact,) = facts(house, "2026-12-08T17:30")
    assert fact.late and fact.lead == "Painter can’t come tomorrow"
    assert "First day that works: Thu Dec 10." in fact.rest


def test_once_it_is_answered_he_comes(house: House) -> None:
    quiet(house)
    tables.Decision.update(state="asked").where(tables.Decision.id == house.decisions[4]).execute()
    tables.Visit.delete().where(tables.Visit.id != house.visits["paint"]).execute()
    approve(house.homeowner, house.project, house.decisions[4], revision=1, option="a", name="Maren Okafor",
            now=at("2026-12-04T09:00"))  # fmt: skip
    assert said(house, "2026-12-08T17:30") == [("Tomorrow, Wed Dec 9: Painter 8:00 to 4:30", "They can come.")]


def test_who_still_comes_and_what_that_takes_is_said_beside_the_one_who_can_not(house: House) -> None:
    quiet(house)
    takes(house, "floor_grout", {"service": "water"})
    tables.Delivery.update(arrived_at=None).where(tables.Delivery.item == "Stone top").execute()
    fact = facts(house, "2026-12-03T07:00")[0]
    assert fact.lead == "Stone crew can’t come today"
    assert "Tile setter 8:30 to noon. They can come." in fact.rest
    assert "No water in the Hall bath 8:30 to noon." in fact.rest


def test_what_the_household_does_without_comes_first_with_its_hours(house: House) -> None:
    quiet(house)
    takes(house, "floor_grout", {"service": "water"})
    only(house, "floor_grout")
    book(house, "floor_grout", "2026-12-08T08:00", "2026-12-08T15:00")
    assert said(house, "2026-12-07T18:55") == [(
        "Tomorrow 8:00 to 3:00: no water in the Hall bath", "Tue Dec 8. Tile setter: they can come.",
    )]


def test_what_is_out_at_other_hours_is_said_apart_and_what_lasts_until_when(house: House) -> None:
    quiet(house)
    takes(house, "floor_grout", {"service": "water"}, {"service": "power"},
          {"service": "floor", "until": "done", "wait_hours": 24})
    only(house, "floor_grout")
    book(house, "floor_grout", "2026-12-08T08:00", "2026-12-08T11:00")
    (fact,) = facts(house, "2026-12-07T18:55")
    assert fact.lead == (
        "Tomorrow 8:00 to 11:00: no water or power in the Hall bath; "
        "from 8:00 to noon on Wed Dec 9: stay off the Hall bath floor")


def test_what_to_clear_and_who_must_be_home_are_said_the_day_before(house: House) -> None:
    quiet(house)
    takes(house, "floor_grout", {"service": "clear", "words": "Empty the shelf"}, {"service": "noise"},
          {"service": "at_home", "words": "we ask about the sill"})
    only(house, "floor_grout")
    assert said(house, "2026-12-02T18:00") == [(
        "Tomorrow, Thu Dec 3: Tile setter 8:30 to noon",
        ("They can come. Hall bath, by 8:30: Empty the shelf. Somebody must be home 8:30 to noon. "
         "We ask about the sill. Loud."),
    )]


def test_noise_and_dust_are_a_word_each(house: House) -> None:
    quiet(house)
    takes(house, "floor_grout", {"service": "dust"}, {"service": "noise"})
    only(house, "floor_grout")
    assert said(house, "2026-12-02T18:00")[0][1] == "They can come. Loud and dusty."


def test_a_free_day_and_who_comes_after_it_are_one_breath(house: House) -> None:
    quiet(house)
    only(house, "floor_grout")
    book(house, "floor_grout", "2026-12-07T08:00", "2026-12-07T12:00")
    comes = "Mon Dec 7: Tile setter 8:00 to noon. They can come."
    assert said(house, "2026-12-06T09:00") == [("Today, Sunday: nobody", f"Tomorrow, {comes}")]
    assert said(house, "2026-12-05T09:00") == [("Today, Saturday: nobody", comes)]


def test_on_a_saturday_what_monday_takes_is_told(house: House) -> None:
    quiet(house)
    takes(house, "floor_grout", {"service": "toilet"})
    only(house, "floor_grout")
    book(house, "floor_grout", "2026-12-07T08:00", "2026-12-07T12:00")
    assert [fact.lead for fact in facts(house, "2026-12-05T09:00")] == [
        "Today, Saturday: nobody", "Mon Dec 7, 8:00 to noon: no toilet in the Hall bath",
    ]


def test_work_by_the_plan_without_a_visit_says_so(house: House) -> None:
    quiet(house)
    takes(house, "shelves", {"service": "power"})
    tables.Visit.delete().execute()
    tables.PhaseLink.delete().where(tables.PhaseLink.phase == house.phases["shelves"]).execute()
    tables.Phase.update(not_before="2026-12-03").where(tables.Phase.id == house.phases["shelves"]).execute()
    fact = facts(house)[-1]
    assert fact.lead == "Tomorrow 8:00 to 4:30: no power in the Laundry room"
    assert fact.rest == "Thu Dec 3. By the plan; no visit is booked."


def test_nobody_for_two_weeks_names_the_next_visit_all_the_same(house: House) -> None:
    quiet(house)
    only(house, "floor_grout")
    book(house, "floor_grout", "2027-01-11T08:00", "2027-01-11T12:00")
    assert said(house) == [
        ("Today, Wednesday: nobody", "Mon Jan 11: Tile setter 8:00 to noon. They can come."),
    ]


def test_nobody_and_no_visit_at_all(house: House) -> None:
    quiet(house)
    tables.Visit.delete().execute()
    assert said(house) == [("Today, Wednesday: nobody", "No visit is booked yet.")]


def test_work_under_way_without_a_visit_is_not_hidden(house: House) -> None:
    tables.Visit.delete().execute()
    takes(house, "cabinets")
    assert facts(house)[0].rest.startswith("Under way, but without a visit: “Set the base cabinets”.")


def test_after_the_days_work_it_speaks_of_tomorrow_and_the_next(house: House) -> None:
    quiet(house)
    assert [fact.lead[:8] for fact in facts(house, "2026-12-02T16:29")] == ["Today, W", "Tomorrow"]
    leads = [fact.lead for fact in facts(house, "2026-12-02T16:30")]
    assert leads == ["Tomorrow, Thu Dec 3: Tile setter 8:30 and Stone crew 9:00", "Fri Dec 4: Stone crew 1:00 to 3:30"]
    approve(house.homeowner, house.project, house.decisions[1], revision=1, option="a", name="Maren Okafor",
            now=at("2026-12-02T12:00"))  # fmt: skip
    leads = [fact.lead[:8] for fact in facts(house, "2026-12-02T16:30")]
    assert leads == ["Tomorrow"], "what comes later, takes nothing and waits for nothing is on the tape"


def test_a_visit_in_the_evening_keeps_today_on_the_page(house: House) -> None:
    quiet(house)
    book(house, "cabinets", "2026-12-02T18:00", "2026-12-02T20:00")
    assert "today" in facts(house, "2026-12-02T17:00")[0].lead


def test_a_visit_that_is_over_and_whose_work_has_not_begun_says_so(house: House) -> None:
    quiet(house)
    only(house, "floor_grout")
    assert said(house, "2026-12-03T13:00")[0] == (
        "Today, Thursday: Tile setter 8:30 to noon", "The work has not begun.")


def test_what_waits_for_an_answer_says_so(house: House) -> None:
    quiet(house)
    assert said(house, "2026-12-02T18:00")[1] == ("Fri Dec 4: Stone crew 1:00 to 3:30", "Waits for your answer.")


def test_a_visit_over_several_days_says_until_when_they_stay(house: House) -> None:
    quiet(house)
    only(house, "floor_grout")
    book(house, "floor_grout", "2026-12-03T08:00", "2026-12-08T12:00")
    assert facts(house)[0].rest.startswith("Tomorrow, Thu Dec 3: Tile setter 8:00 am to Tue Dec 8, 12:00 pm.")
    assert facts(house, "2026-12-04T07:00")[0].lead == "Today, Friday: Tile setter, to Tue Dec 8"
    assert facts(house, "2026-12-08T07:00")[0].lead == "Today, Tuesday: Tile setter, to noon"


def test_a_visit_at_midnight_stands_at_its_own_day(house: House) -> None:
    quiet(house)
    only(house, "floor_grout")
    book(house, "floor_grout", "2026-12-03T20:00", "2026-12-04T00:00")
    assert "Tile setter" in facts(house, "2026-12-03T07:00")[0].words
    assert "Tile setter" not in facts(house, "2026-12-04T07:00")[0].lead
    book(house, "floor_grout", "2026-12-04T00:00", "2026-12-04T02:00")
    assert "Tile setter" in facts(house, "2026-12-04T00:30")[0].lead


def test_several_crews_are_named_and_more_are_counted(house: House) -> None:
    quiet(house)
    tables.Visit.delete().execute()
    for hour in (8, 9, 10, 11, 13):
        tables.Visit.create(project=house.project, crew=f"Crew {hour}", purpose="Work",
                            starts_at=at(f"2026-12-03T{hour:02}:00"), ends_at=at(f"2026-12-03T{hour:02}:30"))
    assert facts(house)[0].rest.startswith(
        "Tomorrow, Thu Dec 3: Crew 8 8:00, Crew 9 9:00, Crew 10 10:00 and 2 more.")


def test_a_delivery_of_the_day_is_due(house: House) -> None:
    quiet(house)
    tables.Delivery.update(arrived_at=None, expected_on="2026-12-02").where(
        tables.Delivery.item == "Splash tile").execute()
    assert facts(house)[0].rest == "They can come. Due: Splash tile."


@pytest.mark.parametrize(("visits", "lead"), [(False, "The work is finished"), (True, "Today, Wednesday: Carpenters")])
def test_a_closed_house_has_nobody_to_wait_for_unless_a_visit_is_booked(house: House, visits: bool, lead: str) -> None:
    quiet(house)
    ended = at("2026-12-01T11:00")
    tables.Phase.update(started_at=ended - 3600, finished_at=ended).execute()
    tables.Project.update(closed_at=at("2026-12-01T12:00")).execute()
    if not visits:
        tables.Visit.delete().execute()
    assert facts(house)[0].lead.startswith(lead)


def test_a_cancelled_visit_is_not_told(house: House) -> None:
    quiet(house)
    tables.Visit.update(cancelled_at=at("2026-12-01T12:00")).execute()
    assert said(house) == [("Today, Wednesday: nobody", "No visit is booked yet.")]


def test_on_the_day_of_a_clock_change_hours_are_those_of_the_clocks(house: House) -> None:
    """Sun Mar 14, 2027, and the Monday after it."""
    quiet(house)
    only(house, "floor_grout")
    book(house, "floor_grout", "2027-03-15T08:00", "2027-03-15T12:00")
    (fact,) = facts(house, "2027-03-14T09:00")
    assert fact.rest.startswith("Tomorrow, Mon Mar 15: Tile setter 8:00 to noon.")


def test_once_work_has_begun_its_visit_says_how_far_it_is_and_what_is_over_is_not_asked_for(house: House) -> None:
    """`They can come` of a crew that is there, or gone, and `by 8:30` at ten, are not true any more."""
    quiet(house)
    only(house, "floor_grout")
    takes(house, "floor_grout", {"service": "water"}, {"service": "clear", "words": "Empty the shelf"},
          {"service": "at_home", "words": ""}, {"service": "noise"})
    row = tables.Phase.id == house.phases["floor_grout"]
    tables.Phase.update(state="under_way", started_at=at("2026-12-03T08:30")).where(row).execute()
    assert said(house, "2026-12-03T10:00")[0] == (
        "Today 8:30 to noon: no water in the Hall bath",
        "Tile setter: under way. Somebody must be home 8:30 to noon. Loud.",
    )
    tables.Phase.update(state="done", finished_at=at("2026-12-03T11:30")).where(row).execute()
    assert said(house, "2026-12-03T11:40")[0] == ("Today, Thursday: Tile setter 8:30 to noon", "Done.")


def test_what_only_the_plan_takes_is_not_said_as_if_those_who_come_did(house: House) -> None:
    """Carpenters come on Thursday; that the painter would close the door on that day no visit says."""
    quiet(house)
    only(house, "floor_grout")
    takes(house, "floor_grout", {"service": "water"})
    takes(house, "shelves", {"service": "power"}, {"service": "at_home", "words": ""})
    tables.PhaseLink.delete().where(tables.PhaseLink.phase == house.phases["shelves"]).execute()
    tables.Phase.update(not_before="2026-12-03").where(tables.Phase.id == house.phases["shelves"]).execute()
    assert said(house)[-1] == (
        "Tomorrow 8:30 to noon: no water in the Hall bath",
        ("Thu Dec 3. Tile setter: they can come. By the plan, without a visit yet: no power in the Laundry room "
         "8:00 to 4:30."),
    )


def test_nobody_is_asked_to_stay_at_home_for_what_only_the_plan_foresees(house: House) -> None:
    """A plan slides: it would ask each day anew. It used to say “nobody”, and that somebody must be home."""
    quiet(house)
    takes(house, "shelves", {"service": "at_home", "words": ""}, {"service": "clear", "words": "Empty the shelf"})
    tables.Visit.delete().execute()
    tables.PhaseLink.delete().where(tables.PhaseLink.phase == house.phases["shelves"]).execute()
    assert said(house) == [("Today, Wednesday: nobody", "No visit is booked yet.")]
