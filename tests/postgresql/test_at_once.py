"""Several write at the same moment, in threads and in processes: each act sees what the one before it left, and the
record is one chain without gaps."""

import json
import subprocess
import sys
from pathlib import Path

from portal.acts.decisions.answers import approve, withdraw
from portal.acts.decisions.asking import ask_again
from portal.acts.household.updates import note_call
from portal.acts.keeping.own_keys import check_keys
from portal.acts.keeping.verifying import verify_project
from portal.acts.plan.starting import start_phase
from portal.acts.refusals import AlreadyApproved, Held, Refused, Superseded, TooLateToWithdraw
from portal.demo.seed import Told, seed
from portal.record.checking.verification import verify_record
from portal.record.log.heads import Signer
from portal.settings import Settings
from portal.store.engine.database import open_database
from portal.store.engine.migrate import migrate
from portal.store.rows import record_rows
from portal.store.tables import Approval, Call, Decision, Update
from tests.house import NOW, House
from tests.postgresql.crossing import at_once, overtaken
from tests.served import ApiClient, bearer_for, serve_house

NAMES = {"homeowner": "Maren Okafor", "co_owner": "Jonas Okafor"}
ROOT = Path(__file__).parents[2]


def answer(house: House, who: str, number: int = 1, option: str = "a") -> tuple[object, bool]:
    values = {"revision": 1, "option": option, "name": NAMES[who], "now": NOW}
    return approve(getattr(house, who), house.project, house.decisions[number], **values)


def take_back(house: House) -> None:
    withdraw(house.homeowner, house.project, house.decisions[1], reason="We think again", now=NOW)


def drill(house: House) -> object:
    return start_phase(house.manager, house.project, house.phases["drill"], now=NOW)


def approvals(house: House) -> int:
    return Approval.select().where(Approval.decision == house.decisions[1]).count()


def check_record(house: House, kinds: dict[str, int]) -> None:
    """The record's entries by kind, all in one chain, and the tree over them."""
    rows = list(record_rows.every(house.project))
    assert [sequence for sequence, _, _ in rows] == list(range(1, sum(kinds.values()) + 1))
    found = [json.loads(canonical)["kind"] for _, _, canonical in rows]
    assert {kind: found.count(kind) for kind in found} == kinds
    verdict = verify_record(house.project, rows, nodes=record_rows.all_nodes(house.project))
    assert verdict.ok, verdict


def test_both_owners_approve_everything_in_the_same_second(house: House) -> None:
    at_once(*(
        lambda who=who, number=number: answer(house, who, number) for who in NAMES for number in (1, 2, 4, 5)
    ))
    check_record(house, {"approved": 8, "consent_given": 2})  # consent is asked once, however many answers cross


def test_the_same_approval_from_four_tabs_is_one(house: House) -> None:
    results = at_once(*[lambda: answer(house, "homeowner")[1]] * 4)
    assert sorted(results) == [False, False, False, True]
    assert approvals(house) == 1
    check_record(house, {"approved": 1, "consent_given": 1})


def test_of_two_owners_who_choose_differently_one_is_told(house: House) -> None:
    results = at_once(lambda: answer(house, "homeowner"), lambda: answer(house, "co_owner", option="b"))
    assert [type(result) for result in results if isinstance(result, Refused)] == [AlreadyApproved]
    assert approvals(house) == 1


def test_an_answer_to_a_question_that_is_just_being_changed_does_not_count(house: House, url: str) -> None:
    changed = {"question": "Two holes or three?"}
    refusal = overtaken(
        url,
        lambda: ask_again(house.manager, house.project, house.decisions[1], changed, NOW),
        lambda: answer(house, "homeowner"),
    )
    assert isinstance(refusal, Superseded)
    assert Decision.get_by_id(house.decisions[1]).state == "asked" and approvals(house) == 0


def test_held_work_does_not_start_on_an_approval_that_is_just_being_taken_back(house: House, url: str) -> None:
    answer(house, "homeowner")
    assert isinstance(overtaken(url, lambda: take_back(house), lambda: drill(house)), Held)


def test_an_approval_is_not_taken_back_while_its_work_is_just_being_started(house: House, url: str) -> None:
    answer(house, "homeowner")
    assert isinstance(overtaken(url, lambda: drill(house), lambda: take_back(house)), TooLateToWithdraw)


def test_another_project_does_not_wait(house: House, url: str) -> None:
    def note(project: int) -> object:
        return note_call(house.office, project, {"caller": "Ida Sorensen", "asked": "When?"}, NOW)

    def both() -> object:
        note(house.project)
        (other,) = at_once(lambda: note(house.other_project))  # committed, while this project's lock is held
        return other

    refusal = overtaken(url, both, lambda: note(house.project))
    assert isinstance(refusal, Call)
    assert Call.select().count() == 3


def test_a_request_repeated_before_its_answer_is_done_once(house: House, url: str, tmp_path: Path) -> None:
    app = serve_house(tmp_path, url)
    bearer = bearer_for(house, "manager")

    def post() -> object:
        client = ApiClient(app.test_client(), bearer)
        sent = client.post(f"projects/{house.project}/updates", {"text": "The top is in."}, Idempotency_Key="one")
        return sent.status_code, sent.get_data(), "Idempotent-Replayed" in sent.headers

    results = at_once(*[post] * 4)
    assert {(status, body) for status, body, _ in results} == {results[0][:2]} and results[0][0] == 201
    assert sorted(again for _, _, again in results) == [False, True, True, True]
    assert Update.select().where(Update.text == "The top is in.").count() == 1


def test_two_processes_approve_and_the_whole_project_verifies(empty: str, tmp_path: Path) -> None:
    told, settings = told_on(empty, tmp_path)
    before = record_rows.count(told.project)
    command = [sys.executable, "-m", "tests.postgresql.approving", empty]
    processes = [
        subprocess.Popen([*command, str(person.id)], cwd=ROOT, stdin=-1, stdout=-1, stderr=-1, text=True)
        for person in told.household
    ]
    for process in processes:
        assert process.stdout and process.stdout.readline() == "ready\n"
    done = [process.communicate("go\n", timeout=60) for process in processes]
    counts = [int(said) for said, _ in done]
    assert sum(counts) >= 4 and [process.returncode for process in processes] == [0, 0], done
    assert record_rows.count(told.project) >= before + sum(counts)
    verdict = verify_project(told.project, Signer(settings.record_key))
    assert verdict.ok, verdict


def told_on(url: str, folder: Path) -> tuple[Told, Settings]:
    """The demo's project, grown through the acts."""
    settings = Settings.read({"PORTAL_DATA": str(folder), "PORTAL_DATABASE": url})
    open_database(url)
    migrate()
    check_keys(settings)
    return seed(settings, NOW), settings


def test_a_refusal_in_the_middle_of_others_leaves_no_gap(house: House) -> None:
    results = at_once(*(lambda option=option: answer(house, "homeowner", 5, option) for option in "zazaza"))
    assert sum(isinstance(result, Refused) for result in results) == 3
    check_record(house, {"approved": 1, "consent_given": 1})
