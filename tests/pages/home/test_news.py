"""Updates with their photos, newest first."""

from dataclasses import replace

from portal.pages.home.news import news_section
from portal.pages.home.page import render_page
from portal.store.facts import PhotoFact, UpdateFact
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from tests.house import NOW, House, at
from tests.pages.reading import parsed


def of(**values: object) -> UpdateFact:
    given = UpdateFact(9, "Dana Whitcombe", at("2026-12-01T16:05"), "<p>The top is set.</p>")
    return replace(given, **values)  # type: ignore[arg-type]


def section(house: House, *updates: UpdateFact) -> list[tuple[str, str]]:
    shown = replace(read_snapshot(house.project), updates=tuple(updates))
    return [(one.title, str(one.text)) for one in news_section(shown)]


def test_an_update_says_when_by_the_clocks_of_the_house_and_from_whom(house: House) -> None:
    assert section(house, of(), of(staff="", html="<p>Nobody is named.</p>")) == [
        ("Tue Dec 1, 4:05 pm, from Dana Whitcombe", "<p>The top is set.</p>"),
        ("Tue Dec 1, 4:05 pm", "<p>Nobody is named.</p>"),
    ]


def test_a_photo_is_scaled_by_its_longer_edge_and_never_enlarged(house: House) -> None:
    photos = (
        PhotoFact(9, "wide", "The top", 1600, 1200), PhotoFact(9, "high", "", 600, 1280),
        PhotoFact(9, "small", "", 320, 200),
    )
    shown = replace(read_snapshot(house.project), updates=(of(photos=photos),))
    wide, high, small = news_section(shown)[0].photos
    assert (wide.width, wide.height) == (640, 480) and (high.width, high.height) == (300, 640)
    assert (small.width, small.height) == (320, 200)
    assert (wide.small, wide.large) == ("photos/wide-small.jpg", "photos/wide-large.jpg")
    assert (wide.alt, wide.caption) == ("The top", "The top")
    assert (high.alt, high.caption) == ("Photo 2 of the update of Tue Dec 1, 4:05 pm", "")


def test_all_updates_are_in_the_fold_and_their_number_is_on_it(house: House) -> None:
    shown = read_snapshot(house.project)
    many = replace(shown, updates=tuple(of(id=one, html=f"<p>Note {one}.</p>") for one in range(300)))
    page = parsed(render_page(many, schedule_of(many, NOW), NOW))
    fold = page.fold("News")
    assert fold.startswith("News: 300 ") and "Note 0." in fold and "Note 299." in fold
    assert "Note 7." not in page.html.partition("<details")[0]


def test_without_updates_there_is_no_fold_of_them(house: House) -> None:
    shown = replace(read_snapshot(house.project), updates=())
    assert "News" not in render_page(shown, schedule_of(shown, NOW), NOW)
