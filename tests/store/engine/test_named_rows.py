"""Rows become shapes by the names of their columns: where a column stands in a query means nothing."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from portal import signing
from portal.acts.decisions.answers import withdraw
from portal.acts.household import mail
from portal.acts.household.handovers import accept_handover
from portal.acts.plan.starting import release_phase
from portal.acts.visiting.visits import cancel_visit
from portal.content import Piece
from portal.store import tables
from portal.store.engine import named_rows
from portal.store.engine.database import is_sqlite, write
from portal.store.engine.named_rows import as_date, as_json, as_json_text, first_row, first_value, rows, values
from portal.store.engine.whole_copy import photos_named
from portal.store.finding.said_houses import find, near
from portal.store.reading import before_entries, clashes, desk_lines, figures, forecasts, published, record_facts
from portal.store.reading.crews import week, work
from portal.store.reading.finish import moves
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.revisions import check_codes
from portal.store.reading.snapshot import read_firm, read_snapshot
from portal.store.rows import (
    consent_rows,
    decision_rows,
    kept_answers,
    link_rows,
    notice_rows,
    person_rows,
    project_rows,
    record_rows,
    staff_rows,
    visit_rows,
    wording_rows,
)
from portal.store.rows.accounts import session_rows
from portal.store.rows.crews import crew_link_rows, crew_rows, crew_visit_rows
from portal.store.rows.household import supplier_rows, told_marks
from portal.store.rows.letters import evening_rows, mail_rows, staff_notice_rows
from tests.acts.furnished import Furnished, furnish
from tests.house import NOW, House
from tests.store.columns import selects, turned_around


@pytest.fixture
def furnished(house: House) -> Furnished:
    """A house with something in every table that a query reads, and nothing in it that equals something else."""
    found = furnish(house)
    withdraw(house.co_owner, house.project, house.decisions[3], reason="We think again", now=NOW + 61)
    release_phase(house.manager, house.project, house.phases["drill"], reason="Template is on site", now=NOW + 122)
    cancel_visit(house.office, house.project, house.visits["paint"], 1, because="The painter is ill", now=NOW + 183)
    accept_handover(house.homeowner, house.project, found.handover, name="Maren Okafor", seen=1, now=NOW + 244)
    mail.stop_mail(house.homeowner, house.project, house.homeowner.id, now=NOW + 305)
    letter = mail_rows.SentLetter(1, house.co_owner.id, "jonas@example.org", "sent")
    mail_rows.came_back(letter, NOW, "5.1.1", "No", True)
    mail_rows.mailbox_read("returns", 3, 41, NOW + 7)
    tables.OpenItem.update(by_on=date(2026, 12, 21), photo="e" * 20, photo_sha256="f" * 64).execute()
    tables.Visit.create(project=house.other_project, crew="Stone crew", purpose="Template", phase=None,
                        starts_at=NOW + 7 * 3600, ends_at=NOW + 9 * 3600)  # fmt: skip
    tables.Token.create(staff=house.office.id, digest="9" * 64, made_at=NOW)
    tables.StaffSession.create(staff=house.office.id, digest="5" * 64, began_at=NOW + 5, used_at=NOW + 6,
                               proved_at=NOW + 8)  # fmt: skip
    with write():
        kept_answers.keep("office", "key-1", "POST /visits", 201, '{"Location": "/x"}', "{}", NOW + 305)
        wording_rows.keep_wording(Piece("grout", "Grout", "", "", "Cures take a day.", "a" * 64))
    evening_rows.looked_at(house.project, 5, NOW - 1, NOW + 427)
    evening_rows.tell(house.project, house.co_owner.id, {"day": "2026-12-03", "facts": "seen"}, None, NOW + 488)
    told_marks.keep(house.project, "decision:42", "c" * 64, {"number": 2}, house.office.id, NOW + 549)
    published.keep_failing(house.other_project, NOW + 366, "full")
    snapshot = read_snapshot(house.project)
    schedule = schedule_of(snapshot, NOW)
    line = desk_lines.line_of(snapshot, schedule)
    published.keep_computed(
        forecasts.foresee(snapshot, schedule), moves.moved_finish(snapshot, schedule), line, house.project,
        snapshot.project.changed, "2026-12-02",
    )
    return found


def _photo_of(house: House) -> list[object]:
    """All that the store's readers find."""
    project, decision = house.project, house.decisions
    snapshot = read_snapshot(project)
    schedule = schedule_of(snapshot, NOW)
    code = decision_rows.revision(decision[3], 1).check_code
    return [
        snapshot, read_snapshot(house.other_project), read_firm(), photos_named(),
        published.marks(), published.behind(NOW, 9), published.keep_shown(project, 0, "2026-12-02"),
        published.of_ids([project]), published.published_ids(),
        published.not_shown(snapshot.project.timezone, "never", NOW), published.zones(),
        figures.approvals_kept(), figures.newest_change(), notice_rows.these([1, 2]), staff_notice_rows.lacking(0, 9),
        moves.moved_finish(snapshot, schedule), moves.moved_finish(snapshot, schedule_of(snapshot, NOW + 90_000)),
        figures.letters_by_state(),
        published.read_for_publishing(project)[1], visit_rows.cancelled(project),
        check_codes.revisions_with(code), check_codes.revisions_with(code[:1]),
        clashes.conflicts_in(schedule, project), clashes.conflicts_in(schedule, house.other_project),
        desk_lines.open_projects(NOW), desk_lines.those([project], NOW), desk_lines.not_good(NOW + 1),
        desk_lines.anew(snapshot, schedule), forecasts.foresee(snapshot, schedule),
        record_facts.kept_entries(project), record_facts.kept_facts(project), record_facts.shown_revisions(project),
        record_facts.decision_states(project), record_facts.members(project), record_facts.contract_cents(project),
        record_facts.reading_prices(project),
        *(decision_rows.for_answer(project, one) for one in decision.values()),
        *(decision_rows.approvals(one, 1) for one in decision.values()),
        consent_rows.standing(house.homeowner.id), consent_rows.standing(house.other_homeowner.id),
        kept_answers.find("office", "key-1"), kept_answers.find("office", "key-2"),
        link_rows.live_links(project), link_rows.holder_of(signing.digest(house.links["homeowner"])),
        link_rows.newest_link(), record_rows.kept_keys(), record_rows.key_told(), record_rows.all_heads(),
        record_rows.keys_ever(),
        notice_rows.due(NOW + 900), notice_rows.in_state("waiting", 100), notice_rows.one(1),
        notice_rows.old(NOW + 900, NOW + 900, 9), notice_rows.to_remind(NOW),
        notice_rows.links_of_calls(project), notice_rows.told(house.homeowner.id, "asked", {}),
        notice_rows.still_believed(house.homeowner.id, house.visits["top"]),
        mail_rows.stopped(house.homeowner.id), mail_rows.stops_since(house.homeowner.id, NOW),
        mail_rows.of_project(project), mail_rows.person(house.homeowner.id), mail_rows.letter(1),
        *(notice_rows.about_entry(project, one.sequence) for one in record_rows.every(project)),
        evening_rows.to_look_at(NOW), evening_rows.told_last(house.co_owner.id, "2026-12-03", NOW),
        mail_rows.mailbox("returns"), staff_notice_rows.due(NOW + 900),
        find("Maren"), find("0163"), near("Sorenson"),
        record_rows.edge(project), list(record_rows.every(project)), record_rows.one(project, 2),
        record_rows.of_kind(project, "approved"), record_rows.all_nodes(project),
        record_rows.nodes_at(project, [(0, 0), (0, 1)]), staff_rows.bearer("9" * 64), staff_rows.names(),
        session_rows.find("5" * 64),
        told_marks.of_open_houses(), told_marks.of_house(project), person_rows.of_houses([project]),
        project_rows.stamp(), crew_rows.written(), crew_rows.ahead({"stone crew", "painter"}, NOW), crew_rows.known(),
        week.crews_ahead(NOW, NOW), work.anew(snapshot, schedule),
        crew_link_rows.holder_of("5" * 64, NOW), crew_link_rows.end_of(date(2026, 12, 3)),
        [crew_visit_rows.visits_of(crew.id, NOW) for crew in tables.Crew.select()],
        [supplier_rows.likely_for(order) for order in tables.PlannedOrder.select()],
        before_entries.newest_said(project, "asked", "decision", 1), list(before_entries.all_said(["asked"])),
        before_entries.columns_before(project, tables.Phase, house.phases["top"], 99, ["started_at"]),
        notice_rows.reached(house.homeowner.id, "asked", {}), notice_rows.waits(house.homeowner.id, "asked", {}),
        wording_rows.wording("a" * 64), wording_rows.guidance_shown(decision[1], 1),
    ]


def test_no_reader_notices_that_the_columns_of_its_query_were_swapped(
    furnished: Furnished, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = _photo_of(furnished.house)
    asked: list[str] = []
    really = named_rows.execute

    def swapped(sql: str, *parameters: Any) -> Any:
        asked.append(sql)
        return really(turned_around(sql), *parameters)

    monkeypatch.setattr(named_rows, "execute", swapped)
    with write():
        notice_rows.rewrite(furnished.project, lambda about: about)
        notice_rows.wake(furnished.project, 0, 0, 0, NOW)
    assert _photo_of(furnished.house) == before
    never = {where for where, sql in selects() if not any(one.startswith(sql.split("{")[0]) for one in asked)}
    never -= {"portal.store.rows.letters.evening_rows._EVER"}  # one column: nothing to swap
    asked_of_postgresql_alone = {where for where in never if where.startswith("portal.store.engine.postgresql")}
    assert never - asked_of_postgresql_alone == set(), "queries that this test does not ask"


def test_each_column_of_a_query_has_a_name_of_its_own(furnished: Furnished, monkeypatch: pytest.MonkeyPatch) -> None:
    found: list[list[str]] = []
    really = named_rows.execute

    def seen(sql: str, *parameters: Any) -> Any:
        cursor = really(sql, *parameters)
        found.append([column[0] for column in cursor.description])
        return cursor

    monkeypatch.setattr(named_rows, "execute", seen)
    _photo_of(furnished.house)
    assert [names for names in found if len(set(names)) < len(names)] == []


@pytest.mark.parametrize(
    ("sql", "turned"),
    [
        ("SELECT a, b FROM t", "SELECT b, a FROM t"),
        ("SELECT DISTINCT a, b FROM t", "SELECT DISTINCT b, a FROM t"),
        ("SELECT f(a, b) AS c, (SELECT d FROM u) AS e FROM t", "SELECT (SELECT d FROM u) AS e, f(a, b) AS c FROM t"),
    ],
)
def test_turning_around_moves_whole_columns(sql: str, turned: str) -> None:
    assert " ".join(turned_around(sql).split()) == turned


def test_rows_are_read_by_the_name_of_the_column(house: House) -> None:
    sql = "SELECT name, id FROM room WHERE project_id = ? ORDER BY id"
    found = rows(sql, house.project, name=str.upper)
    assert found[0] == {"id": house.rooms["kitchen"], "name": "KITCHEN"}
    assert first_row(sql, house.project, id=str) == {"id": str(house.rooms["kitchen"]), "name": "Kitchen"}
    assert first_row(sql, house.other_project) is None and rows(sql, house.other_project) == []


def test_a_column_that_the_query_lacks_is_an_error(house: House) -> None:
    with pytest.raises(KeyError, match="services"):
        rows("SELECT id, name FROM room", services=as_json)


def test_values_are_of_one_column(house: House) -> None:
    sql = "SELECT id FROM room WHERE project_id = ? ORDER BY id DESC"
    assert values(sql, house.project) == sorted(house.rooms.values(), reverse=True)
    assert first_value(sql, house.project) == max(house.rooms.values())
    assert values(sql, house.other_project) == [] and first_value(sql, house.other_project) is None
    with pytest.raises(ValueError, match="unpack"):
        values("SELECT id, name FROM room")


@pytest.mark.parametrize(
    ("reads", "given", "value"),
    [
        (as_json, '{"b": [1, 2]}', {"b": [1, 2]}), (as_json, {"b": [1]}, {"b": [1]}), (as_json, None, None),
        (as_json_text, '{"b": 1, "a": 2}', '{"b": 1, "a": 2}'),
        (as_json_text, {"b": 1, "a": 2}, '{"a": 2, "b": 1}'),
        (as_date, "2026-12-02", date(2026, 12, 2)), (as_date, date(2026, 12, 2), date(2026, 12, 2)),
        (as_date, None, None),
    ],
)
def test_what_either_database_gives_is_read_alike(reads: Callable[[Any], Any], given: Any, value: Any) -> None:
    assert reads(given) == value


def test_a_date_comes_as_the_database_keeps_it(house: House) -> None:
    kept = first_value("SELECT starts_on FROM project WHERE id = ?", house.project)
    assert isinstance(kept, str if is_sqlite() else date) and as_date(kept) == date(2026, 11, 16)
