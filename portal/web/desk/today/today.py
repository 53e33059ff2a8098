"""The first page of the desk: what is to be done over all houses, and finding the house of a caller.

`?q=` finds houses, `?page=` counts through them, `?for=call` or `?for=photo` leads from the house on to that form,
`?whose=all` shows the houses of all managers, `?more=` counts on through a long list.
"""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from itertools import takewhile
from typing import Any

from flask import Response, redirect, request

from portal import clock
from portal.acts.actor import MANAGER
from portal.acts.written import written
from portal.store.finding import said_houses
from portal.store.reading import desk_lines
from portal.store.reading.crews.week import CrewsAhead
from portal.store.reading.desk_lines import Listed
from portal.store.reading.firm import current_firm
from portal.store.rows.project_rows import how_many_closed
from portal.web.desk.blueprint import blueprint, who
from portal.web.desk.crews.week_view import Most, this_week, week_of
from portal.web.desk.firm.first_day import missing_today
from portal.web.desk.showing import show
from portal.web.desk.today.clash_lines import clash_lines
from portal.web.desk.today.failed import failed_lines
from portal.web.desk.today.houses import AT_A_TIME, counted_through, houses_of
from portal.web.desk.today.line import Line
from portal.web.desk.today.matter_lines import Standing, lines_of, standing, standing_between_views
from portal.web.desk.today.notice_lines import notice_lines
from portal.words.dates import clock_words, day_words, local, weekday_and_day

SHOWN = Most(crews=12, a_day=4)
"""Of the week; what is not seen here stands in the week itself."""
FOLDED_FROM, MOST = 12, 60
"""Lines that are seen at once; lines on one page, the others on the next."""
_ON = {"call": ("calls/new", "Note a call: of which house?"), "photo": ("updates/new", "A photo: of which house?")}


@dataclass(frozen=True, slots=True)
class TheList:
    """`late`, `unkept`, `to_do`: how many there are in all, of the first two with those that were told and that telling
    does not settle. `seen`, `folded`: lines of this page; `next`: the number of
    the next page of lines, None after the last. `told`: lines of matters that somebody was told of."""

    late: int
    unkept: int
    to_do: int
    seen: list[Line]
    folded: list[Line]
    next: int | None
    told: list[Line]
    calls: int  # people whom no mail reaches


@blueprint.get("/")
def every() -> Response:
    words = written("q", request.args.get("q", ""))
    if words:
        return _found(words)
    now = clock.now()
    every_house = desk_lines.open_between_views(now)
    whose = _whose(every_house)
    is_shown = _shown_to(whose)
    houses = [one for one in every_house if is_shown(one)]
    stands = [one for one in standing_between_views(every_house, now) if is_shown(one.house)]
    first, pages = counted_through(len(houses), request.args.get("page", 1, type=int))
    ahead, zone = this_week(), houses[0].timezone if houses else "UTC"
    return show(
        "today.html", words="", near=False, many=len(houses), most=AT_A_TIME, on=_on(), whose=whose,
        most_crews=SHOWN.crews, **pages,
        list=_list(houses, whose, stands, ahead, now, zone), week=week_of(ahead=ahead, twice=False, most=SHOWN),
        first_day=[] if houses else missing_today(), some_closed=how_many_closed() > 0,
        houses=houses_of(houses[first:first + AT_A_TIME], _late(stands), now),
        **_dated(now, zone),
    )


def _found(words: str) -> Response:
    """Houses that match; if it is only one, straight to it, or to the form that was wanted."""
    now, texts = clock.now(), said_houses.texts_between_views()
    found = said_houses.find(words, AT_A_TIME, texts)
    if len(found) == 1:
        return redirect(f"/desk/projects/{found[0].id}/{_on()[0]}", 303)  # type: ignore[return-value]
    near = said_houses.near(words, texts=texts) if not found else []
    shown = desk_lines.those([row.id for row in found or near], now)
    houses = houses_of(shown, _late(standing(shown, now)), now)
    return show("today.html", words=words, near=bool(near), many=len(shown), most=AT_A_TIME, on=_on(), whose="",
                first=1, last=len(shown), before=None, after=None, list=None, houses=houses)


def _dated(now: int, zone: str) -> dict[str, Any]:
    moment = local(now, zone)
    return {"today": weekday_and_day(moment.date()), "today_short": day_words(moment.date()), "at": clock_words(moment)}


def _on() -> tuple[str, str]:
    """Where a house leads: below its address; and what is asked for it."""
    return _ON.get(request.args.get("for", ""), ("", ""))


def _whose(houses: list[Listed]) -> str:
    """`mine` or `all`; empty where nobody is named for any house, so that there is nothing to choose."""
    if all(one.responsible is None for one in houses):
        return ""
    usual = "mine" if who().role == MANAGER else "all"
    wanted = request.args.get("whose", usual)
    return wanted if wanted in ("mine", "all") else usual


def _shown_to(whose: str) -> Callable[[Listed], bool]:
    mine = {who().id, None}
    return lambda house: whose != "mine" or house.responsible in mine


def _late(stands: list[Standing]) -> Counter[int]:
    """How many are late, or can't be kept, by house: they stand first."""
    return Counter(one.house.id for one in takewhile(_is_first, stands) if one.waits)


def _is_first(one: Standing) -> bool:
    return one.place.is_first


def _list(houses: list[Listed], whose: str, stands: list[Standing], ahead: CrewsAhead, now: int, zone: str) -> TheList:
    """What failed and who must be told stand first of what is to be done today."""
    open_ones = [one for one in stands if not one.told]
    first = list(takewhile(_is_first, open_ones))
    firm = current_firm()
    by_id = {one.id: one for one in houses}
    calls = notice_lines(by_id, _shown_to(whose), firm, now)
    today = local(now, zone).date()
    besides = [*failed_lines(now, today, zone, bool(houses)), *calls, *clash_lines(ahead, by_id, today)]
    whole: list[Standing | Line] = [*first, *besides, *open_ones[len(first):]]
    page = max(1, request.args.get("more", 1, type=int))
    start = (min(page, -(-len(whole) // MOST) or 1) - 1) * MOST
    shown = whole[start:start + MOST]
    made = iter(lines_of([one for one in shown if isinstance(one, Standing)], firm))
    lines = [one if isinstance(one, Line) else next(made) for one in shown]
    late = [one for one in takewhile(_is_first, stands) if one.waits]
    unkept = sum(one.matter.due.unkept for one in late)
    told = lines_of([one for one in stands if one.told][:MOST], firm)
    return TheList(len(late) - unkept, unkept, len(whole) - len(first), lines[:FOLDED_FROM], lines[FOLDED_FROM:],
                   start // MOST + 2 if start + MOST < len(whole) else None, told,
                   sum(len(one.people) for one in calls))
