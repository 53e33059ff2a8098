"""Each decision in the copy: as it was shown, what became of it, and what the record says of it."""

import hashlib
import json
from dataclasses import replace
from functools import partial
from typing import Any

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import change_decision
from portal.copying import material
from portal.drawings.scenes.scene_json import scene_from_json
from portal.drawings.writers.svg import svg
from portal.pages.decision.decision_page import unlike_words
from portal.pages.decision.option_drawing import NOT_SHOWN, drawing_of
from portal.pages.own_copy.decisions import decision_files
from portal.pages.own_copy.files import copy_files
from portal.record.log.heads import Signer
from portal.store.tables import Decision, Revision
from tests.demo_house import DemoHouse
from tests.house import NOW
from tests.kept_shapes import details
from tests.pages.own_copy.lived_in import copy_of, lived_in
from tests.unguarded import as_asked_then, unguard


def test_decisions_are_there_as_they_were_shown_with_what_became_of_them(demo: DemoHouse) -> None:
    lived_in(demo)
    files = copy_of(demo)
    first = files["decisions/1/index.html"].decode()
    assert "<h1>One hole or two?</h1>" in first
    assert "Asked before, and replaced" in first and "Which holes do we drill behind the sink?" in first
    assert "This was not approved when the copy was made." in first
    assert "took back the approval of question 1. Why: Let us think" in first
    assert json.loads(files["decisions/1/shown-1.json"])["question"].startswith("Which holes do we drill")
    third = files["decisions/3/index.html"].decode()
    assert "“In the middle of each drawer”</strong> was approved by Maren Okafor" in third


def test_one_of_two_approvals_is_told_as_one_of_two(demo: DemoHouse) -> None:
    told = demo.told
    decision = Decision.get_by_id(told.decisions[0])
    change_decision(told.manager, demo.project, decision.id, decision.version, {"approvers": "all"}, NOW)
    approve(told.household[0], demo.project, decision.id, revision=1, option="a", name="Maren Okafor", now=NOW)
    page = copy_of(demo)["decisions/1/index.html"].decode()
    assert "was approved by Maren Okafor" in page and "others still have to approve it, too." in page
    approve(told.household[1], demo.project, decision.id, revision=1, option="a", name="Jonas Okafor", now=NOW)
    page = copy_of(demo)["decisions/1/index.html"].decode()
    assert "was approved by Maren Okafor" in page and "others still have to" not in page


def test_each_drawn_option_of_each_revision_is_a_drawing_of_its_own(demo: DemoHouse) -> None:
    lived_in(demo)
    files = copy_of(demo)
    for revision in (1, 2):
        options = json.loads(files[f"decisions/1/shown-{revision}.json"])["options"]
        drawn = {one["key"]: one["detail"]["drawing"] for one in options if (one.get("detail") or {}).get("drawing")}
        assert drawn
        for key, drawing in drawn.items():
            file = f"revision-{revision}-{key}.svg"
            assert files[f"decisions/1/{file}"].decode() == svg(scene_from_json(drawing), alone=True)
            page = "index.html" if revision == 2 else "revision-1.html"
            assert f'href="{file}"' in files[f"decisions/1/{page}"].decode()


def test_the_record_says_of_a_decision_what_is_about_it_and_nothing_else(demo: DemoHouse) -> None:
    files = copy_of(demo)
    entries = json.loads(files["record/record.json"])["entries"]
    for number in (1, 3):
        page = files[f"decisions/{number}/index.html"].decode()
        about = [
            entry["sequence"] for entry in entries
            if entry["body"].get("decision") == number or number in entry["body"].get("decisions", [])
        ]
        assert about
        for entry in entries:
            named = f"Receipt of entry {entry['sequence']}<" in page
            assert named is (entry["sequence"] in about)


def test_a_drawing_that_can_not_be_drawn_as_it_is_kept_says_so_in_the_copy(demo: DemoHouse) -> None:
    lived_in(demo)
    whole = material(demo.project, Signer(demo.settings.record_key), NOW)
    place, newest = max((place, one) for place, one in enumerate(whole.revisions) if one.decision == 1)
    for detail in list(details())[::9]:
        changed = [one | {"detail": detail} for one in newest.options]
        shown = json.dumps(json.loads(newest.shown) | {"options": changed})
        code = hashlib.sha256(shown.encode()).hexdigest()
        other = newest._replace(options=changed, shown=shown, check_code=code)
        revisions = [other if at == place else one for at, one in enumerate(whole.revisions)]
        decisions = tuple(replace(one, options=[o | {"detail": detail} for o in one.options])
                          for one in whole.snapshot.decisions)
        files = dict(decision_files(replace(
            whole, revisions=revisions, snapshot=replace(whole.snapshot, decisions=decisions))))
        page = str(files["decisions/1/index.html"])
        drawing, unlike = drawing_of(decisions[0].options[0]), unlike_words(decisions[0])
        said = bool(unlike) or (drawing is not None and not drawing.svg)
        assert (NOT_SHOWN in page.replace("\u00a0", " ")) == said


def besides(demo: DemoHouse) -> dict[str, Any]:
    """Options and detail of decision 1 with what its kind does not declare, as old rows may have it."""
    row = Revision.get(Revision.decision == demo.told.decisions[0])
    options = [one | {"detail": {**(one.get("detail") or {}), "maker": "Brimstow"}} for one in row.options]
    return {"options": options, "detail": {**row.detail, "budget": "Brimstow 7"}}


def every_file(demo: DemoHouse) -> dict[str, bytes]:
    signer = Signer(demo.settings.record_key)
    return copy_files(material(demo.project, signer, NOW), partial(demo.settings.photo_file, demo.project), signer)


def holding(files: dict[str, bytes]) -> list[str]:
    return [path for path, data in files.items() if b"Brimstow" in data]


def test_of_a_detail_only_what_was_shown_holds_more_than_its_kind_declares(demo: DemoHouse) -> None:
    """The bytes that the check code stands for stay whole; pages and drawings have what is declared."""
    before = every_file(demo)
    drawn = [path for path in before if path.startswith("decisions/1/") and path.endswith(".svg")]
    as_asked_then(demo.told.decisions[0], **besides(demo))
    files = every_file(demo)
    assert holding(files) == ["decisions/1/shown-1.json"]
    assert drawn and all(files[path] == before[path] for path in drawn)


def test_what_was_put_into_a_detail_later_is_in_no_file(demo: DemoHouse) -> None:
    unguard("revision")
    Revision.update(besides(demo)).where(Revision.decision == demo.told.decisions[0]).execute()
    files = every_file(demo)
    assert holding(files) == [] and "decisions/1/shown-1.json" in files
