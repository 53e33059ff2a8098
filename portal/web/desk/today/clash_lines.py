"""Crews that two houses need at once, each crew and pair of houses once: not late, so not red."""

from collections.abc import Collection
from datetime import date

from portal.planning.day_list import Due
from portal.store.reading.crews.week import CrewsAhead
from portal.web.desk.crews.week_view import twice_of
from portal.web.desk.today.line import Line, Press
from portal.words.plurals import counted

_SAID = 12
"""What fits is looked for so many; the week says the others."""


def clash_lines(ahead: CrewsAhead, houses: Collection[int], today: date) -> list[Line]:
    """`houses`: those whose lines are shown."""
    found = [one for one in ahead.clashes if one.other.project in houses]
    twice = [twice_of(ahead, one) for one in found[:_SAID]]
    lines = [
        Line(one.house.id, one.house.name, one.house.address, "", f"{one.crew} is needed twice", one.words,
             Press(one.does, one.leads), Due(), today, key=f"clash:{one.key}")
        for one in twice
    ]
    if more := len(found) - len(twice):
        lines.append(Line(0, "", "", "", f"{counted(more, 'more crew is', 'more crews are')} needed twice",
                          "The week says where.", Press("Look", "/desk/week/"), Due(), today))
    return lines
