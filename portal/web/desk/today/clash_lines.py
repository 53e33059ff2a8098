"""Crews that two houses need at once, each crew and pair of houses once: not late, so not red."""

from collections.abc import Mapping
from datetime import date

from portal.planning.day_list import Due
from portal.store.reading.crews.week import CrewsAhead
from portal.store.reading.desk_lines import Listed
from portal.web.desk.blueprint import who
from portal.web.desk.crews.week_view import Twice, twice_of
from portal.web.desk.today.line import Line, Press
from portal.web.desk.today.who_does import WhoDoes
from portal.words.plurals import counted

_SAID = 12
"""What fits is looked for so many; the week says the others."""


def clash_lines(ahead: CrewsAhead, houses: Mapping[int, Listed], today: date) -> list[Line]:
    """`houses`: those whose lines are shown, by id. Who may not mend it tells whoever runs the house."""
    does = WhoDoes(who().role)
    found = [one for one in ahead.clashes if one.other.project in houses]
    twice = [twice_of(ahead, one) for one in found[:_SAID]]
    lines = [_line(one, houses[one.house.id], does, today) for one in twice]
    if more := len(found) - len(twice):
        lines.append(Line(0, "", "", "", f"{counted(more, 'more crew is', 'more crews are')} needed twice",
                          "The week says where.", Press("Look", "/desk/week/"), Due(), today))
    return lines


def _line(one: Twice, house: Listed, does: WhoDoes, today: date) -> Line:
    heading = f"{one.crew} is needed twice"
    press = does.press(Press(one.does, one.leads, may=one.may), house, f"{heading}. {one.words}")
    return Line(house.id, house.name, house.address, "", heading, one.words, press, Due(), today,
                key=f"clash:{one.key}")
