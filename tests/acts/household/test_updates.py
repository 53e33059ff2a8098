"""Updates with photos, and call notes, which may send a link and never count as an answer."""

from typing import Any

import pytest

from portal.acts.household.updates import change_update, note_call, post_update, remove_update
from portal.acts.keeping.photos import Kept
from portal.acts.refusals import FieldRefused, NotFound, Stale
from portal.store.tables import Call, Decision, Photo, Update
from portal.words.prose import prose
from tests.acts.kept import entries, newest, notices
from tests.house import NOW, House

PHOTOS = [Kept("e" * 20, "From the door", 1600, 1200, "e" * 64), Kept("f" * 20, "", 1200, 1600, "f" * 64)]


def post(house: House, text: str = "The **top** is in.") -> Update:
    return post_update(house.office, house.project, text=prose(text), photos=PHOTOS, now=NOW)


def test_an_update_keeps_its_words_as_typed_and_as_shown(house: House) -> None:
    update = post(house)
    assert (update.text, update.at, update.staff_id) == ("The **top** is in.", NOW, house.office.id)
    assert "<strong>top</strong>" in update.html
    rows = Photo.select().where(Photo.of == update.id).order_by(Photo.id)
    assert [(row.name, row.caption, row.width, row.height) for row in rows] == [
        ("e" * 20, "From the door", 1600, 1200), ("f" * 20, "", 1200, 1600)
    ]  # fmt: skip
    assert newest(house.project)["body"] == {"update": update.id, "photos": [photo.sha256 for photo in PHOTOS]}


def test_an_update_needs_no_photo(house: House) -> None:
    update = post_update(house.manager, house.project, text=prose("Done."), now=NOW)
    assert not Photo.select().where(Photo.of == update.id).exists()


def test_other_words_are_shown_and_the_photos_stay(house: House) -> None:
    update = post(house)
    changed = change_update(house.manager, house.project, update.id, update.version, text=prose("It is *in*."), now=NOW)
    assert (changed.text, changed.at, changed.staff_id) == ("It is *in*.", NOW, house.office.id)
    assert "<em>in</em>" in changed.html and "top" not in changed.html
    assert Photo.select().where(Photo.of == update.id).count() == 2


def test_who_has_seen_an_older_update_changes_and_removes_nothing(house: House) -> None:
    update = post(house)
    change_update(house.office, house.project, update.id, update.version, text=prose("It is in."), now=NOW)
    with pytest.raises(Stale):
        change_update(house.office, house.project, update.id, update.version, text=prose("It is not."), now=NOW)
    with pytest.raises(Stale):
        remove_update(house.office, house.project, update.id, update.version, now=NOW)
    assert Update.get_by_id(update.id).text == "It is in."


def test_an_update_goes_with_its_photos(house: House) -> None:
    update = post(house)
    remove_update(house.office, house.project, update.id, update.version, now=NOW)
    assert Update.get_or_none(Update.id == update.id) is None
    assert not Photo.select().where(Photo.of == update.id).exists()


def test_the_update_of_another_house_is_not_found(house: House) -> None:
    update = post(house)
    with pytest.raises(NotFound):
        change_update(house.office, house.other_project, update.id, update.version, text=prose("x"), now=NOW)
    with pytest.raises(NotFound):
        remove_update(house.office, house.other_project, update.id, update.version, now=NOW)


def call(house: House, **values: Any) -> Call:
    return note_call(house.office, house.project, {"caller": "Jonas", "asked": "May we take b?"} | values, NOW)


def test_a_call_is_kept_and_answers_nothing(house: House) -> None:
    note = call(house, told="Only the link counts.", number=99)
    assert (note.caller, note.asked, note.told, note.at, note.staff_id) == (
        "Jonas", "May we take b?", "Only the link counts.", NOW, house.office.id
    )  # fmt: skip
    assert Decision.get_by_id(house.decisions[1]).state == "asked"
    (entry,) = entries(house.project)
    assert (entry["kind"], entry["body"], notices(house.project)) == ("call_noted", {"call": note.id}, [])


def test_after_a_call_the_person_gets_their_own_link(house: House) -> None:
    note = call(house, send_link_to=house.co_owner.id)
    assert [(one.person, one.kind, one.about) for one in notices(house.project)] == [
        (house.co_owner.id, "link", {"call": note.id})
    ]  # fmt: skip


def test_a_link_that_can_not_be_sent_keeps_the_call_out_too(house: House) -> None:
    before = Call.select().count()
    with pytest.raises(FieldRefused) as refused:
        call(house, send_link_to=house.other_homeowner.id)
    assert refused.value.field == "send_link_to"
    assert (Call.select().count(), notices(house.project)) == (before, [])
