"""The page where one takes one's own copy says what is in it, and only the button takes it."""

import dataclasses

from portal.pages.own_copy.offer import render_copy
from portal.store.reading.snapshot import read_snapshot
from tests.house import House
from tests.web.plain import X, parsed


def test_it_counts_the_photos_where_there_are_any(house: House) -> None:
    snapshot = read_snapshot(house.project)
    count = sum(len(update.photos) for update in snapshot.updates)
    assert count > 1 and f"a receipt for each entry, {count} photos, the products" in render_copy(snapshot)
    bare = dataclasses.replace(snapshot, updates=())
    assert "a receipt for each entry, the products and colors" in render_copy(bare)


def test_only_the_button_takes_it(house: House) -> None:
    page = parsed(render_copy(read_snapshot(house.project)))
    (form,) = page.iter(f"{X}form")
    assert form.get("method") == "post" and form.get("action") is None
    ways = [way.get("href") for way in page.iter(f"{X}a")]
    assert "../" in ways and "../guide/check-the-record/" in ways
