"""The list of the day at the desk: what stands there, what a press does, what is told once, what goes by itself."""

import re
from datetime import date, timedelta

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.household.messages import answer_message, send_message
from portal.acts.household.told_matters import mark_told
from portal.acts.refusals import MatterChanged
from portal.acts.visiting.deliveries import record_arrival
from portal.acts.visiting.visits import cancel_visit
from portal.running.last_tick import note
from portal.store.engine.database import touch, write
from portal.store.reading import desk_lines
from portal.store.rows.household import told_marks
from portal.store.tables import Delivery, Notice, Person, Phase, PlannedOrder, PlannedQuestion, Project, Supplier, Visit
from portal.words.dates import near_words
from tests.house import NOW, House, at
from tests.web.plain import X
from tests.web.signed_in import Desk

GROUT_TOLD = "/desk/projects/7/told/decision:42"
GROUT = "no answer to “Which grout color for the splash?”"


def keys(house: House, now: int = NOW) -> list[str]:
    return [one.key for one in desk_lines.computed(house.project, now).matters if one.due.stands(date(2026, 12, 2))]


def test_late_comes_first_with_its_cause_and_one_thing_to_press(manager: Desk) -> None:
    says = manager.open("/desk/").says
    before, after = says.split("today, Wed Dec 2, 7:30 am")
    assert f"7 days late: {GROUT}" in before
    assert "Okafor. “Grout the splash” waits; from tomorrow each working day moves the end, Mon Dec 14." in before
    assert "Jonas asks: “Can the ceiling stay as it is?”" in after and GROUT not in after
    assert "tel:2185550161" in manager.ways
    assert any(way.startswith("sms:2185550161?body=We%20need%20your%20answer") for way in manager.ways)


def to_do(desk: Desk) -> str:
    """What the list says, without the lines that were told."""
    return desk.open("/desk/").says.split(" line is told")[0]


def test_what_is_told_leaves_the_list_until_it_changes(manager: Desk, office: Desk, house: House) -> None:
    late = manager.open("/desk/").says.split(" late")[0].rsplit(" ", 1)[1]
    manager.send(GROUT_TOLD)
    assert "Noted: they are told." in manager.says and f"late: {GROUT}" not in to_do(manager)
    assert "1 line is told, and not settled yet" in manager.says
    assert "Told by Dana Whitcombe, Wed Dec 2, 7:30 am, waits for their answer." in manager.says
    assert manager.says.count(f"{late} late") == 2, "told is not answered: it stays in the counts, of the house too"
    assert f"late: {GROUT}" not in to_do(office), "it is told for all of the firm"
    with write():
        touch(house.project)
    assert f"late: {GROUT}" not in to_do(manager), "nothing of it has changed"
    manager.send(GROUT_TOLD.replace("told", "not-told"))
    assert f"late: {GROUT}" in to_do(manager) and "line is told" not in manager.says


def test_it_returns_once_it_has_changed(manager: Desk, house: House) -> None:
    manager.open("/desk/").send(GROUT_TOLD)
    Visit.update(starts_at=at("2026-12-04T08:00"), ends_at=at("2026-12-04T12:00")).where(
        Visit.phase == house.phases["grout"]).execute()
    Phase.update(name="Grout it").where(Phase.id == house.phases["grout"]).execute()
    with write():
        touch(house.project)
    assert f"late: {GROUT}" in to_do(manager)


def test_a_mark_of_an_older_state_is_refused_and_one_of_what_is_settled_notes_nothing(house: House) -> None:
    with pytest.raises(MatterChanged):
        mark_told(house.office, house.project, matter=f"decision:{house.decisions[2]}", state="0" * 64, now=NOW)
    mark_told(house.office, house.project, matter="decision:9999", state="0" * 64, now=NOW)
    assert told_marks.of_house(house.project) == []


def test_an_old_tab_is_told_that_it_has_changed(manager: Desk, house: House) -> None:
    manager.open("/desk/").send(GROUT_TOLD, state="0" * 64)
    assert "This has changed since you opened the list" in manager.says and f"late: {GROUT}" in manager.says


def test_lines_go_when_their_matter_is_settled(house: House) -> None:
    asked, comes = f"decision:{house.decisions[2]}", f"comes:{house.deliveries['stone']}"
    said = send_message(house.homeowner, house.project, text="The tap drips.", room=None, photo=None, now=NOW)
    assert {asked, comes, f"message:{said.id}"} <= set(keys(house))
    approve(house.homeowner, house.project, house.decisions[2], revision=1, option="a", name="Maren Okafor", now=NOW)
    top = Delivery.get_by_id(house.deliveries["stone"])
    record_arrival(house.office, house.project, top.id, top.version, now=NOW, at=None)
    answer_message(house.office, house.project, said.id, answer="Sam comes on Friday.", now=NOW)
    assert not {asked, comes, f"message:{said.id}"} & set(keys(house))


def test_two_presses_say_that_it_came(manager: Desk, house: House) -> None:
    top = house.deliveries["stone"]
    manager.open("/desk/").send(f"/desk/projects/7/deliveries/{top}/came")
    assert Delivery.get_by_id(top).arrived_at == NOW
    assert manager.path == "/desk/" and "“Stone top” comes today" not in manager.says, "back on the list"


def test_an_order_is_due_by_what_its_supplier_takes(manager: Desk, house: House) -> None:
    supplier = Supplier.create(name="Northshore Stone", lead_days=9)
    PlannedOrder.create(project=house.project, item="Vanity top", phases=[house.phases["splash"]], supplier=supplier)
    with write():
        touch(house.project)
    says = manager.open("/desk/").says
    assert "days late: “Vanity top” is not ordered" in says and "Northshore Stone takes 9 working days." in says


def test_what_the_plan_wants_asked_is_late_once_no_answer_can_be_in_time(manager: Desk, house: House) -> None:
    """On the list of all houses and on the page of the house by one rule."""
    PlannedQuestion.create(project=house.project, question="Where does the seam go?", options=[], lead_days=1,
                           holds=[house.phases["drill"]])  # fmt: skip
    with write():
        touch(house.project)
    (one,) = [one for one in desk_lines.computed(house.project, NOW).matters if one.key.startswith("ask:")]
    needed = date.fromisoformat(one.facts["needed"])
    assert one.due.by == needed and not one.due.days_late(needed) and one.due.days_late(needed + timedelta(days=1))
    late = "late: not asked: “Where does the seam go?”" in manager.open("/desk/").says
    assert late == (needed < date(2026, 12, 2))
    rest = manager.open("/desk/projects/7/").says.split("Not asked yet: Where does the seam go?")[1]
    assert rest.startswith(f" Needed by {near_words(needed, date(2026, 12, 2)).split(',')[0]}"), rest[:60]


def test_the_office_is_led_to_nothing_that_it_may_not_do(manager: Desk, office: Desk, house: House) -> None:
    PlannedQuestion.create(project=house.project, question="Where does the seam go?", options=[], lead_days=1,
                           holds=[house.phases["drill"]])  # fmt: skip
    with write():
        touch(house.project)
    asks = re.compile(r"/desk/projects/7/planned/\d+/ask")
    (way,) = filter(asks.fullmatch, manager.open("/desk/").ways)
    assert not list(filter(asks.fullmatch, office.open("/desk/").ways))
    told = [one for one in office.ways if one.startswith("mailto:") and "seam" in one]
    assert len(told) == 1 and "Tell Dana" in office.says
    office.open(way, 403)
    assert "This is for the manager to do." in office.says and " now" not in office.says and "/desk/" in office.ways


def test_a_work_day_past_its_latest_finish_it_is_late(house: House) -> None:
    base = next(one for one in desk_lines.computed(house.project, NOW).matters if one.key.startswith("finish:"))
    assert base.due.by and base.due.days_late(base.due.by) == 0
    later = at("2026-12-04T09:00")
    (late,) = [one for one in desk_lines.computed(house.project, later).matters if one.key == base.key]
    assert late.due.days_late(date(2026, 12, 4)) > 0


def test_what_the_server_could_not_do_is_said(manager: Desk) -> None:
    settings = manager.client.application.extensions["portal"].settings
    note(settings, NOW - 60, ["letters"])
    assert "Not done by the server at Wed Dec 2, 7:29 am: letters" in manager.open("/desk/").says
    note(settings, NOW - 60, [])
    assert "Not done by the server" not in manager.open("/desk/").says


def test_whoever_gets_no_mail_is_told_in_two_presses(manager: Desk, house: House) -> None:
    Person.update(email="").where(Person.id == house.homeowner.id).execute()
    cancel_visit(house.office, house.project, house.visits["top"], 1, because="The crew is ill", now=NOW)
    says = manager.open("/desk/").says
    assert "Tell Maren: Stone crew" in says and "Maren Okafor has no e-mail address." in says
    assert any(way.startswith("sms:2185550161?body=Stone%20crew") for way in manager.ways)
    manager.send(f"/desk/projects/7/people/{house.homeowner.id}/told")
    assert manager.path == "/desk/" and "Tell Maren" not in manager.says


def test_where_no_mail_is_sent_a_house_has_one_line(
    manager: Desk, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("portal.web.desk.today.notice_lines.no_mail", lambda: "None is sent.")
    for visit in ("top", "paint"):
        cancel_visit(house.office, house.project, house.visits[visit], 1, because="They are ill", now=NOW)
    says = manager.open("/desk/").says
    names = re.search(r"Tell (Maren and Jonas|Jonas and Maren) 2 things", says)
    assert names and "No mail is sent from here; the text has all of it." in says and "2 to tell" in says, says
    assert any(way.startswith("sms:") and way.count("They%20are%20ill") == 2 for way in manager.ways)
    Person.update(phone="").execute()
    assert "No mail is sent from here. The newest: " in manager.open("/desk/").says, "no text has it"
    way = "/desk/projects/7/notices/told"
    sent = manager.typed(way) | {"notice": [str(row.id) for row in Notice.select()]}
    manager.path = way
    manager.post(sent)
    assert manager.path == "/desk/" and "No mail is sent from here" not in manager.says


def test_managers_see_the_houses_that_they_run_and_those_that_nobody_runs(manager: Desk, house: House) -> None:
    _run_by(house, house.office.id)
    assert GROUT not in manager.open("/desk/").says and "The houses that you run." in manager.says
    assert GROUT in manager.open("/desk/?whose=all").says
    _run_by(house, house.manager.id)
    assert GROUT in manager.open("/desk/").says


def _run_by(house: House, staff: int) -> None:
    values = {"responsible": staff, "changed": Project.changed + 1}
    Project.update(values).where(Project.id == house.project).execute()


def test_a_call_chooses_its_house_first(office: Desk) -> None:
    office.open("/desk/?for=call")
    assert "Note a call: of which house?" in office.says and "/desk/projects/7/calls/new" in office.ways
    assert office.open("/desk/?q=Okafor&for=photo").path == "/desk/projects/7/updates/new"


def test_crews_with_something_to_do_stand_before_those_of_today_and_these_before_the_rest(
    manager: Desk, house: House
) -> None:
    """And so on a phone, which shows four of them; the week itself goes by name."""
    def book(crew: str, day: int, project: int = house.other_project) -> None:
        starts = at(f"2026-12-{day:02}T09:00")
        Visit.create(project=project, crew=crew, purpose="Measure", starts_at=starts, ends_at=starts + 3600)

    Visit.update(cancelled_at=NOW).execute()
    Project.update(starts_on="2026-11-30").execute()
    for crew, day in (("Arborist", 3), ("Mason", 2), ("Welder", 4), ("Yardman", 5), ("Zinc roofer", 1)):
        book(crew, day)
    book("Welder", 4, house.project)
    book("Zinc roofer", 1, house.project)  # twice, but yesterday
    with write():
        touch(house.other_project)

    def order() -> list[str]:
        names = [one.text for one in manager.page.iter(f"{X}h3")]
        return [one for one in names if one in ("Arborist", "Mason", "Welder", "Yardman", "Zinc roofer")]

    manager.open("/desk/")
    assert order() == ["Welder", "Yardman", "Mason", "Arborist", "Zinc roofer"], "twice, can’t come on Saturday, today"
    manager.open("/desk/week/")
    assert order() == ["Arborist", "Mason", "Welder", "Yardman", "Zinc roofer"]
