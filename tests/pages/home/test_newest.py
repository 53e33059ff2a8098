"""The newest photo: what it is, which day, and one sentence of what was said with it."""

from dataclasses import replace
from datetime import date

import pytest

from portal.pages.home.newest import Newest, first_sentence, newest_photo
from portal.store.facts import PhotoFact, UpdateFact
from portal.store.reading.snapshot import read_snapshot
from tests.house import House, at
from tests.pages.reading import page_of

TODAY = date(2026, 12, 2)
PHOTO = PhotoFact(9, "door", "The door", 800, 600)


def update(when: str, html: str = "<p>The top is set. It is level.</p>", *photos: PhotoFact) -> UpdateFact:
    return UpdateFact(9, "Dana Whitcombe", at(when), html, photos)


def newest(house: House, *updates: UpdateFact) -> Newest:
    return newest_photo(replace(read_snapshot(house.project), updates=updates), TODAY)


def test_it_is_the_newest_that_has_a_photo(house: House) -> None:
    found = newest(house, update("2026-12-02T07:00"), update("2026-11-30T16:00", "<p>A door.</p>", PHOTO))
    assert found.photo and found.photo.small == "photos/door-small.jpg" and found.photo.alt == "The door"
    assert (found.day, found.words) == ("Monday:", "A door.")


@pytest.mark.parametrize(("when", "day"), [
    ("2026-12-02T06:00", "Today:"), ("2026-12-01T16:00", "Tuesday:"), ("2026-11-26T16:00", "Thursday:"),
    ("2026-11-25T16:00", "Wed Nov 25:"), ("2026-03-02T16:00", "Mon Mar 2, 2026:"),
])
def test_a_weekday_is_one_of_the_last_six_days(house: House, when: str, day: str) -> None:
    assert newest(house, update(when, "<p>A door.</p>", PHOTO)).day == day


def test_it_says_the_first_sentence_or_the_words_of_the_photo(house: House) -> None:
    texts = ("<p>It is set. It is level.</p>", "")
    said = [newest(house, update("2026-12-01T16:00", html, PHOTO)).words for html in texts]
    assert said == ["It is set.", "The door"]


@pytest.mark.parametrize(("text", "said"), [
    ("Level to 1/16 in. Done.", "Level to 1/16 in."), ("Is it 3.5 mm? Yes", "Is it 3.5 mm?"), ("no end", "no end"),
    ("one two three four", "one two …"), ("onetwothreefourfive", "onetwothree …"), ("  a\n b.  c.", "a b."),
])
def test_a_long_sentence_ends_after_a_whole_word(text: str, said: str) -> None:
    assert first_sentence(text, 25 if "." in text or "?" in text or "end" in text else 11) == said


def test_before_the_first_photo_a_house_is_drawn(house: House) -> None:
    found = newest(house)
    assert (found.photo, found.day, found.words) == (None, "No photo yet.", "The first comes soon.")
    shown = read_snapshot(house.project)
    later = replace(shown, updates=(), project=shown.project._replace(starts_on=date(2026, 12, 9)))
    assert newest_photo(later, TODAY).words == "The first comes when we start, Wed Dec 9."
    done = tuple(replace(one, finished_at=1) for one in shown.phases)
    assert newest_photo(replace(later, phases=done), TODAY).words == ""
    figure = page_of(house, project=house.other_project).root.find(".//figure")
    assert figure is not None and figure.get("class") == "newest none" and len(figure) == 2
    assert "svg" in str(figure[0].tag)
