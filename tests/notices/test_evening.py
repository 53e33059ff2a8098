"""The letter of the evening: one a person, never twice for the same, another when it has changed."""

from datetime import datetime
from typing import Any

import pytest

from portal.acts.visiting.visits import cancel_visit, change_visit
from portal.notices.evenings import telling
from portal.notices.evenings.telling import tell_evenings
from portal.notices.notice_kinds import KINDS
from portal.store import tables
from tests.house import House, at
from tests.notices.mail_server import Mail
from tests.notices.office import PostOffice

TUESDAY = "2026-12-08"


@pytest.fixture(autouse=True)
def water_off(house: House) -> None:
    """The carpenters hang the vanity on Tue Dec 8 from 8:00 to 3:00: no water in the bath, and nothing else happens."""
    tables.Visit.delete().where(tables.Visit.id != house.visits["floor_grout"]).execute()
    tables.Delivery.update(arrived_at=at("2026-12-01T10:00")).execute()
    tables.Phase.update(takes=[]).execute()
    book(house, f"{TUESDAY}T08:00", f"{TUESDAY}T15:00")
    takes(house, {"service": "water"})


def book(house: House, starts: str, ends: str) -> None:
    values = {"starts_at": at(starts), "ends_at": at(ends)}
    tables.Visit.update(**values).where(tables.Visit.id == house.visits["floor_grout"]).execute()


def takes(house: House, *given: dict[str, Any]) -> None:
    tables.Phase.update(takes=list(given)).where(tables.Phase.id == house.phases["floor_grout"]).execute()


def changed(house: House) -> None:
    tables.Project.update(changed=tables.Project.changed + 1).where(tables.Project.id == house.project).execute()


def mails(office: PostOffice, when: str) -> list[Mail]:
    """What arrives by a tick at that time, of evenings."""
    office.now = at(when)
    tell_evenings(office.now)
    return office.send()


def subjects(office: PostOffice, when: str) -> list[str]:
    return [mail.message["Subject"] for mail in mails(office, when)]


def flat(mail: Mail) -> str:
    return " ".join(mail.text.split())


def test_it_comes_once_to_each_in_the_evening_before_at_the_end_of_work(house: House, office: PostOffice) -> None:
    assert mails(office, "2026-12-07T16:25") == []
    first, second = mails(office, "2026-12-07T16:30")
    assert (first.to, second.to) == (["maren@example.org"], ["jonas@example.org"])
    assert first.message["Subject"] == "Okafor house, tomorrow, Tue Dec 8: no water in the Hall bath, 8:00 to 3:00"
    for when in ("2026-12-07T16:35", "2026-12-07T23:55", "2026-12-08T07:55", "2026-12-08T09:00", "2026-12-08T16:30"):
        assert mails(office, when) == []


def test_it_says_who_comes_what_is_out_what_to_clear_who_is_home_and_leads_to_the_page(
    house: House, office: PostOffice
) -> None:
    takes(house, {"service": "water"}, {"service": "clear", "words": "Empty the shelf."},
          {"service": "at_home", "words": "We ask about the sill."})
    text = flat(mails(office, "2026-12-07T16:30")[0])
    for words in (
        "This is what the work brings tomorrow, Tue Dec 8:",
        "- 8:00 am to 3:00 pm, Tile setter: Grout and seal the bath floor (Hall bath). They can come.",
        "- 8:00 to 3:00: no water in the Hall bath, because of “Grout and seal the floor”.",
        "There is water in the Kitchen.",
        "- Hall bath, by 8:00: Empty the shelf.",
        "- Somebody must be home 8:00 to 3:00. We ask about the sill.",
        f"Your page shows the house and who comes: {office.link('homeowner')}",
    ):
        assert words in text
    assert "Nobody has to be home" not in text


def test_where_nobody_must_be_home_it_says_so(house: House, office: PostOffice) -> None:
    assert "Nobody has to be home for it." in flat(mails(office, "2026-12-07T16:30")[0])


def test_of_monday_it_comes_on_sunday(house: House, office: PostOffice) -> None:
    book(house, "2026-12-07T08:00", "2026-12-07T12:00")
    assert mails(office, "2026-12-04T16:30") == mails(office, "2026-12-05T16:30") == []
    assert subjects(office, "2026-12-06T16:30") == [
        "Okafor house, tomorrow, Mon Dec 7: no water in the Hall bath, 8:00 to noon"] * 2


@pytest.mark.parametrize("given", [[], [{"service": "noise"}, {"service": "dust"}]])
def test_a_day_that_takes_nothing_or_is_loud_needs_no_letter(
    house: House, office: PostOffice, given: list[dict[str, Any]]
) -> None:
    takes(house, *given)
    assert mails(office, "2026-12-07T16:30") == []


def test_a_visit_that_can_not_be_kept_is_a_letter(house: House, office: PostOffice) -> None:
    late = {"expected_low": TUESDAY, "expected_on": "2026-12-10", "expected_high": "2026-12-10"}
    tables.Delivery.update(arrived_at=None, **late).where(tables.Delivery.item == "Stone top").execute()
    delivery = tables.Delivery.get(tables.Delivery.item == "Stone top")
    tables.DeliveryHold.create(delivery=delivery, phase=house.phases["floor_grout"])
    (first, _) = mails(office, "2026-12-07T16:30")
    assert first.message["Subject"] == "Okafor house, tomorrow, Tue Dec 8: Tile setter can’t come"
    assert "Can’t come: Stone top is expected on Thu Dec 10. First day that works: Fri Dec 11." in flat(first)
    assert "no water" not in flat(first)


def test_what_has_changed_since_is_told_once_more_and_what_has_not_is_not(house: House, office: PostOffice) -> None:
    mails(office, "2026-12-07T16:30")
    changed(house)
    assert mails(office, "2026-12-07T17:00") == [], "the change was of something else"
    book(house, f"{TUESDAY}T09:00", f"{TUESDAY}T15:00")
    changed(house)
    (first, _) = mails(office, "2026-12-07T18:00")
    assert "What we wrote you about tomorrow, Tue Dec 8 has changed. This is what holds now:" in flat(first)
    assert "9:00 to 3:00: no water" in flat(first)
    changed(house)
    assert mails(office, "2026-12-07T18:05") == []
    book(house, f"{TUESDAY}T08:00", f"{TUESDAY}T15:00")
    changed(house)
    assert len(mails(office, "2026-12-07T19:00")) == 2, "they believe the second letter"


def test_a_change_in_the_morning_is_told_until_eight_and_not_after(house: House, office: PostOffice) -> None:
    mails(office, "2026-12-07T16:30")
    book(house, f"{TUESDAY}T10:00", f"{TUESDAY}T15:00")
    changed(house)
    assert len(mails(office, f"{TUESDAY}T07:30")) == 2
    book(house, f"{TUESDAY}T11:00", f"{TUESDAY}T15:00")
    changed(house)
    assert mails(office, f"{TUESDAY}T08:00") == []


def test_what_no_longer_happens_is_taken_back(house: House, office: PostOffice) -> None:
    mails(office, "2026-12-07T16:30")
    version = tables.Visit.get_by_id(house.visits["floor_grout"]).version
    starts, ends = datetime(2026, 12, 10, 8), datetime(2026, 12, 10, 15)
    moved = {"starts_at": starts, "ends_at": ends, "reason": "The top is late."}
    change_visit(house.office, house.project, house.visits["floor_grout"], version, moved, at("2026-12-07T17:00"))
    told = [mail for mail in mails(office, "2026-12-07T17:00") if "all works" in mail.message["Subject"]]
    assert [mail.to for mail in told] == [["maren@example.org"], ["jonas@example.org"]]
    assert "no longer holds: the work takes nothing from you that day." in flat(told[0])


def test_what_was_cancelled_before_the_letter_went_out_is_never_told(house: House, office: PostOffice) -> None:
    office.box.says["greeting"] = "421 not now"
    mails(office, "2026-12-07T16:30")
    office.box.says.clear()
    version = tables.Visit.get_by_id(house.visits["floor_grout"]).version
    cancel_visit(house.office, house.project, house.visits["floor_grout"], version, because="", now=office.now)
    found = subjects(office, "2026-12-07T17:30")
    assert len(found) == 2 and all("is cancelled" in one for one in found)


def test_what_only_the_plan_foresees_is_on_the_page_and_no_letter(house: House, office: PostOffice) -> None:
    tables.Visit.delete().execute()
    for day in range(2, 9):
        assert mails(office, f"2026-12-{day:02}T16:30") == []


def test_a_letter_that_waits_and_has_changed_goes_out_once_with_what_holds(house: House, office: PostOffice) -> None:
    office.box.says["greeting"] = "421 not now"
    mails(office, "2026-12-07T16:30")
    office.box.says.clear()
    book(house, f"{TUESDAY}T09:00", f"{TUESDAY}T15:00")
    changed(house)
    found = mails(office, "2026-12-07T18:00")
    assert len(found) == 2 and "This is what the work brings tomorrow" in flat(found[0])


def test_an_evening_that_was_missed_is_told_in_the_morning(house: House, office: PostOffice) -> None:
    mails(office, "2026-12-07T12:00")
    assert subjects(office, f"{TUESDAY}T06:00") == [
        "Okafor house, today, Tue Dec 8: no water in the Hall bath, 8:00 to 3:00"] * 2


def test_a_house_that_is_new_in_the_morning_has_missed_no_evening(house: House, office: PostOffice) -> None:
    assert mails(office, f"{TUESDAY}T06:00") == []


def test_a_letter_that_could_not_go_out_by_the_morning_is_dropped(house: House, office: PostOffice) -> None:
    office.box.says["greeting"] = "421 not now"
    mails(office, "2026-12-07T16:30")
    office.box.says.clear()
    assert mails(office, f"{TUESDAY}T08:05") == []


def test_a_quiet_house_is_looked_at_once_an_evening(house: House, monkeypatch: pytest.MonkeyPatch) -> None:
    looks: list[int] = []
    real = telling.read_snapshot
    monkeypatch.setattr(telling, "read_snapshot", lambda one: (looks.append(one), real(one))[1])
    tell_evenings(at("2026-12-07T12:00"))
    looks.clear()
    for minute in range(0, 24 * 60, 5):
        tell_evenings(at("2026-12-07T16:30") + 60 * minute)
    assert sorted(looks) == sorted([house.project, house.other_project])
    changed(house)
    tell_evenings(at("2026-12-08T12:00"))
    assert len(looks) == 2, "in the daytime no change is looked at"


def test_a_closed_house_is_told_nothing(house: House, office: PostOffice) -> None:
    tables.Project.update(closed_at=at("2026-12-01T12:00")).execute()
    assert mails(office, "2026-12-07T16:30") == []


def test_a_house_that_can_not_be_read_keeps_no_other_from_being_told(
    house: House, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    real = telling.read_snapshot

    def fails(project: int) -> object:
        if project == house.other_project:
            raise ValueError("a row of any shape")
        return real(project)

    monkeypatch.setattr(telling, "read_snapshot", fails)
    looked = tell_evenings(at("2026-12-07T16:30"))
    assert (looked.evening, looked.failed) == ([house.project], [house.other_project])
    assert tables.Notice.select().where(tables.Notice.kind == "evening").count() == 2
    assert "could not be looked at" in caplog.text
    assert tell_evenings(at("2026-12-07T16:35")).failed == [house.other_project], "it is tried again"


def test_the_minute_of_a_forecast_is_no_news(house: House, office: PostOffice) -> None:
    """What lasts ends by the plan, which moves with each minute that work goes on."""
    takes(house, {"service": "floor", "until": "done", "wait_hours": 24})
    mails(office, "2026-12-07T16:30")
    for hour in range(17, 23):
        changed(house)
        assert mails(office, f"2026-12-07T{hour}:05") == []


def test_whoever_gets_no_mail_is_told_by_phone(house: House) -> None:
    about = {"day": TUESDAY, "facts": "x", "again": False}
    assert KINDS["evening"].told(about, "America/Chicago") == (
        "What the work takes tomorrow, Tue Dec 8: read them “Today and tomorrow” of their page.")
    assert KINDS["evening"].by_phone and not KINDS["evening"].legal
