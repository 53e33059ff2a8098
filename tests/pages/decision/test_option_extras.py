"""A finish and the photos of an option, as pages show them: in words, with a swatch, read with care."""

from typing import Any

import pytest

from portal.acts.decisions.answers import approve
from portal.acts.decisions.asking import ask_decision
from portal.pages.cards.swatches import swatch_picture
from portal.pages.decision.decision_page import render_decision
from portal.pages.decision.option_extras import finish_of, photos_of
from portal.pages.evidence.entry_words import entry_words
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.acts.decisions.test_finishes import LINEN, PHOTO
from tests.acts.kept import newest
from tests.house import NOW, ZONE, House
from tests.pages.reading import page_of, parsed

OPTIONS = [{"title": "Warm gray", "finish": LINEN, "photos": [PHOTO]}, {"title": "Charcoal"}]


def test_the_words_name_maker_line_color_and_number_and_where_the_sample_lies() -> None:
    found = finish_of({"finish": LINEN | {"swatch": "#cdc5b6"}})
    assert found is not None
    assert (found.words, found.swatch) == ("Harborstone Fine, Linen 12, no. HF-212", "#cdc5b6")
    assert found.sample == "Screens differ. Look at the sample on the kitchen sill."
    bare = finish_of({"finish": {"color": "Linen 12"}})
    assert bare is not None and (bare.words, bare.sample, bare.swatch) == ("Linen 12", "", "")


@pytest.mark.parametrize("kept", [{}, {"finish": None}, {"finish": {}}, {"finish": "gray"}, {"finish": {"color": 3}}])
def test_without_a_finish_that_can_be_read_nothing_is_said(kept: dict[str, Any]) -> None:
    assert finish_of(kept) is None


def test_a_photo_has_words_for_who_does_not_see_it() -> None:
    one, other = photos_of({"title": "Gray", "photos": [PHOTO, PHOTO | {"caption": ""}]})
    assert (one.words, other.words) == ("In daylight", "Photo 2 of “Gray”")
    assert photos_of({"title": "Gray", "photos": [{"name": "../x"}, {}]}) == photos_of({"photos": 7}) == []


def test_the_card_shows_the_colors_side_by_side_and_nothing_that_is_no_color() -> None:
    picture = str(swatch_picture([{"finish": {"swatch": "#cdc5b6"}}, {"finish": {"swatch": "#4c4a48"}}]))
    assert picture.index('fill="#cdc5b6"') < picture.index('fill="#4c4a48"')
    assert swatch_picture([{"finish": {"swatch": '"><script>'}}, {"finish": None}, {}]) is None


def test_decision_and_page_show_them_and_the_record_tells_them(house: House) -> None:
    asked = ask_decision(house.manager, house.project, {"question": "Which grout?", "options": OPTIONS}, NOW)
    snapshot = read_snapshot(house.project)
    page = parsed(render_decision(snapshot, schedule_of(snapshot, NOW), snapshot.decision(asked.id), NOW))
    assert "Harborstone Fine, Linen 12, no. HF-212" in page.text and "Screens differ." in page.text
    images = {image.get("src"): image.get("alt") for image in page.root.iter("img")}
    assert images[f"../../photos/{PHOTO['name']}-small.jpg"] == "In daylight"
    assert 'fill="#cdc5b6"' in page_of(house).html
    approve(house.homeowner, house.project, asked.id, revision=1, option="a", name="Maren Okafor", now=NOW)
    words = entry_words(newest(house.project), ZONE)
    assert "(Harborstone Fine, Linen 12, no. HF-212, 1 photo)" in words
