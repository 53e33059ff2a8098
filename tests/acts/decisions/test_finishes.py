"""Finish and photos of an option: checked by field, part of what is shown, told by the approval; else nothing."""

import json
from typing import Any

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_again, ask_decision
from portal.acts.decisions.finishes import MOST_PHOTOS
from portal.store.engine.whole_copy import photos_named, photos_named_in
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import FieldRefused
from portal.store.rows import decision_rows
from portal.store.tables import Decision, Revision
from tests.acts.kept import newest
from tests.house import NOW, House
from tests.unguarded import unguard

CODE = "3fa901bc77de3fa901bc" + "0" * 44
PHOTO = {"name": CODE[:20], "caption": "In daylight", "width": 1600, "height": 1200, "sha256": CODE}
LINEN = {"maker": "Harborstone", "line": "Fine", "color": "Linen 12", "number": "HF-212",
         "sample_at": "on the kitchen sill", "swatch": "#CDC5B6"}  # fmt: skip


def ask(house: House, **option: Any) -> Decision:
    options = [{"title": "Warm gray"} | option, {"title": "Charcoal"}]
    return ask_decision(house.manager, house.project, {"question": "Which grout?", "options": options}, NOW)


def kept(decision: Decision) -> dict[str, Any]:
    first: dict[str, Any] = decision_rows.revision(decision.id, decision.revision).options[0]
    return first


def refused(house: House, **option: Any) -> tuple[str, str]:
    with pytest.raises(FieldRefused) as error:
        ask(house, **option)
    return error.value.field or "", str(error.value.details["message"])


def test_a_finish_is_kept_as_it_was_said_and_its_swatch_in_small_letters(house: House) -> None:
    assert kept(ask(house, finish=LINEN | {"line": "  "}))["finish"] == {
        "maker": "Harborstone", "color": "Linen 12", "number": "HF-212", "sample_at": "on the kitchen sill",
        "swatch": "#cdc5b6"}  # fmt: skip


def test_an_option_that_says_nothing_of_them_is_kept_and_shown_as_before_there_were_any(house: House) -> None:
    plain, blank = ask(house), ask(house, finish={"maker": "", "color": " "}, photos=[])
    assert kept(plain) == kept(blank) == {"title": "Warm gray", "key": "a"}
    assert "finish" not in Revision.get(Revision.decision == blank.id).shown


def test_photos_and_finish_are_in_the_bytes_that_the_check_code_stands_for(house: House) -> None:
    shown = json.loads(Revision.get(Revision.decision == ask(house, finish=LINEN, photos=[PHOTO]).id).shown)
    assert shown["options"][0]["photos"] == [PHOTO] and shown["options"][0]["finish"]["color"] == "Linen 12"


@pytest.mark.parametrize("swatch", ["beige", "#12345", "#12345g", "1234567", "#ééééaa", "url(x)"])
def test_a_swatch_that_is_no_color_is_refused_with_how_to_write_it(house: House, swatch: str) -> None:
    field, message = refused(house, finish=LINEN | {"swatch": swatch})
    assert field == "options.0.finish.swatch" and "#d9d2c3" in message


def test_a_finish_without_the_name_of_its_color_is_refused(house: House) -> None:
    assert refused(house, finish={"swatch": "#cdc5b6"})[0] == "options.0.finish.color"


@pytest.mark.parametrize("change", [
    {"name": "0" * 20}, {"name": "../../etc/passwd"}, {"sha256": "x" * 64}, {"sha256": None}, {"width": None},
    {"name": CODE[:19]},
])  # fmt: skip
def test_a_photo_that_was_not_kept_is_refused_by_its_place(house: House, change: dict[str, Any]) -> None:
    field, message = refused(house, photos=[PHOTO, PHOTO | change])
    assert field == "options.0.photos.1.name" and "Send it first" in message


def test_so_many_photos_and_no_more(house: House) -> None:
    assert len(kept(ask(house, photos=[PHOTO] * MOST_PHOTOS))["photos"]) == MOST_PHOTOS
    assert refused(house, photos=[PHOTO] * (MOST_PHOTOS + 1))[0] == "options.0.photos"


def test_the_photos_are_published_and_kept_also_those_of_an_earlier_revision(house: House) -> None:
    asked = ask(house, photos=[PHOTO])
    assert PHOTO["name"] in read_snapshot(house.project).photo_names
    ask_again(house.manager, house.project, asked.id, {"options": [{"title": "White"}, {"title": "Charcoal"}]}, NOW)
    assert PHOTO["name"] not in read_snapshot(house.project).photo_names
    assert (house.project, PHOTO["name"]) in photos_named()
    assert str(PHOTO["name"]) in photos_named_in()[house.project].split()


def test_asked_again_an_option_keeps_them(house: House) -> None:
    asked = ask(house, finish=LINEN, photos=[PHOTO])
    again = ask_again(house.manager, house.project, asked.id, {"question": "Which grout, then?"}, NOW)
    assert kept(again)["photos"] == [PHOTO] and kept(again)["finish"]["number"] == "HF-212"


def test_the_entry_of_an_approval_tells_the_finish_and_the_hashes_of_the_photos(house: House) -> None:
    asked = ask(house, finish=LINEN, photos=[PHOTO])
    approve(house.homeowner, house.project, asked.id, revision=1, option="a", name="Maren Okafor", now=NOW)
    body = newest(house.project)["body"]
    assert body["photos"] == [CODE] and body["finish"]["color"] == "Linen 12"
    other = ask(house)
    approve(house.homeowner, house.project, other.id, revision=1, option="a", name="Maren Okafor", now=NOW)
    assert not {"photos", "finish"} & set(newest(house.project)["body"])


@pytest.mark.parametrize("damage", [
    {"finish": "gray"}, {"finish": {"color": 3}}, {"photos": "x"}, {"photos": [{"name": "x"}]}, {"photos": [7]},
])  # fmt: skip
def test_whatever_stands_in_a_row_is_not_shown_and_not_as_asked(house: House, damage: dict[str, Any]) -> None:
    asked = ask(house, finish=LINEN, photos=[PHOTO])
    options = Revision.get(Revision.decision == asked.id).options
    unguard("revision")
    Revision.update(options=[options[0] | damage, options[1]]).where(Revision.decision == asked.id).execute()
    fact = read_snapshot(house.project).decision(asked.id)
    assert not fact.as_asked and not set(damage) & set(fact.options[0])
    assert (house.project, PHOTO["name"]) in photos_named(), "what was shown still names it"
