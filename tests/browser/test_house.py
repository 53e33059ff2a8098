"""The drawn house, looked at: nothing leaves its room, whatever the house is like and however large the text is."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from portal.drawings.symbols.sheet import with_shapes
from portal.pages.environment import environment, style_of
from portal.pages.house.drawn_house import DrawnHouse
from portal.planning.household.services import RoomServices
from tests.pages.house.drawing import by_day, drawn, out
from tests.planning.homes import room

FRONT, BACK = ({"service": "way_through", "name": name} for name in ("front door", "back door"))
LONG = "Großmutter Przybyszewska’s unnecessarily long sewing and guest room upstairs"
ROOMS = (
    room(1, "Kitchen", "water", "drain", "sink", "cooktop", "power", "way_through"),
    room(2, "Hall bath", "water", "bath", "sink", "toilet"), room(3, "Hall", FRONT, "sink", "toilet"),
    room(4, "Laundry room", {"service": "sink", "name": "tub sink"}, {"service": "cooktop", "name": "hot plate"}, BACK),
    room(5, "Bedroom", "power", "heat"), room(6, "Cellar", "water", "power", "drain"), room(7, "Attic"),
    room(8, LONG, {"service": "sink", "name": "Handwaschbeckenverlängerungsanlage in the corner"}, "toilet", "bath",
         {"service": "way_through", "name": "The door behind the water heater in the old part of the house"}),
    room(9, "Garage", {"service": "power", "name": "refrigerator"}, {"service": "way_through", "name": "garage door"}),
)


def _hit(rooms: tuple[RoomServices, ...]) -> DrawnHouse:
    """Something is out in each room: for long, by day, without a date, with a closed floor."""
    phases = [
        out(1, 1, "sink", "cooktop", "way_through"), out(2, 2, "floor", until="2026-12-20 10:00"),
        by_day(3, 3, "toilet"), out(4, 4, "cooktop"), out(5, 5, "power"), out(6, 6, "water", "power", "drain"),
        out(7, 7, "floor"), out(8, 8, "toilet", "bath", "sink"), by_day(9, 8, "way_through"), out(10, 9, "power"),
    ]
    there = {one.room for one in rooms}
    return drawn(rooms, *(one for one in phases if one.room in there), asked=dict.fromkeys(there, 12))


HOUSES = {f"{count} rooms": _hit(ROOMS[:count]) for count in range(2, 10)} | {
    "long names": _hit(ROOMS[7:8]), "all works": drawn(ROOMS), "nothing listed": drawn([room(1, "Kitchen")]),
}
WAYS = {"320": (320, 100), "390": (390, 100), "768": (768, 100), "1280": (1280, 100), "390 large": (390, 200),
        "1280 large": (1280, 200)}
LEAVING = """() => [...document.querySelectorAll('.room')].flatMap(room => {
  const within = room.getBoundingClientRect();
  return [...room.querySelectorAll('li, i, .tag, h3, p:not(.vh), .d')].filter(one => {
    const box = one.getBoundingClientRect();
    return box.left < within.left - 1 || box.right > within.right + 1 || box.bottom > within.bottom + 1;
  }).map(one => one.outerHTML.slice(0, 90));
})"""
ON_EACH_OTHER = """() => [...document.querySelectorAll('.room')].flatMap(room => {
  const things = [...room.querySelectorAll('li')].map(one => one.getBoundingClientRect());
  return things.flatMap((one, at) => things.slice(at + 1).filter(other =>
    one.left < other.right - 1 && other.left < one.right - 1 && one.top < other.bottom - 1 && other.top < one.bottom - 1
  ).map(() => room.textContent.slice(0, 40)));
})"""
TARGETS = """() => [...document.querySelectorAll('a')].map(one => one.getBoundingClientRect())
  .filter(box => box.width < 44 || box.height < 44).length"""


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context()
    yield context.new_page()
    context.close()


def _show(page: Page, house: DrawnHouse, way: str) -> None:
    width, percent = WAYS[way]
    page.set_viewport_size({"width": width, "height": 844})
    section = environment.get_template("sections/house.html").render(house=house)
    style = f"{style_of('page.html')}html{{font-size:{percent}%}}"
    body = f'<body><div class="in"><div class="top">{section}</div></div></body>'
    page.set_content(with_shapes(f'<!doctype html><html lang="en"><style>{style}</style>{body}</html>'))


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", HOUSES)
def test_no_thing_leaves_its_room_or_stands_on_another(page: Page, name: str, way: str) -> None:
    _show(page, HOUSES[name], way)
    assert page.evaluate("document.documentElement.scrollWidth - window.innerWidth") <= 0
    assert (page.evaluate(LEAVING), page.evaluate(ON_EACH_OTHER)) == ([], [])
    assert page.evaluate(TARGETS) == 0


@pytest.mark.parametrize(("way", "columns"), [("320", 1), ("390", 2), ("768", 2), ("1280", 2), ("390 large", 1)])
def test_rooms_stand_side_by_side_where_there_is_space_for_two(page: Page, way: str, columns: int) -> None:
    _show(page, HOUSES["4 rooms"], way)
    lefts = page.evaluate("[...document.querySelectorAll('.room')].map(one => one.getBoundingClientRect().left)")
    assert len(set(lefts)) == columns


@pytest.mark.parametrize("count", [3, 5])
def test_an_odd_last_room_is_as_wide_as_the_house(page: Page, count: int) -> None:
    _show(page, HOUSES[f"{count} rooms"], "390")
    widths = page.evaluate("[...document.querySelectorAll('.room')].map(one => one.getBoundingClientRect().width)")
    assert widths[-1] > 2 * widths[0]


def test_symbols_are_drawn_and_dashed_where_they_are_out(page: Page) -> None:
    _show(page, HOUSES["2 rooms"], "390")
    looks = page.evaluate("""[...document.querySelectorAll('.room .d')].map(one => [
      one.getBoundingClientRect().width >= 40, getComputedStyle(one).strokeDasharray !== 'none',
      one.closest('li').classList.contains('out')])""")
    assert len(looks) == 6 and all(wide and dashed == out for wide, dashed, out in looks)


def test_what_is_read_or_printed_is_seen_on_paper_only(page: Page) -> None:
    _show(page, HOUSES["2 rooms"], "768")
    box = "document.querySelector('.more').getBoundingClientRect().height"
    assert page.evaluate(box) <= 1
    page.emulate_media(media="print")
    assert page.evaluate(box) > 10
    page.emulate_media(media="screen")
