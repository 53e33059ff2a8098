"""Activity tables of published examples (check-values section 1): `name work predecessors`, worked day and night.

A unit of the book (day, week, month) is an hour here, so that its figures come out as whole hours.
"""

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.critical_path import PhaseDates, Schedule, schedule
from portal.planning.schedule.plan import Phase, Plan, Predecessor

ALWAYS = WorkCalendar.of(
    {"week": {day: [["00:00", "24:00"]] for day in ("mon", "tue", "wed", "thu", "fri", "sat", "sun")}}, "UTC"
)
START = 29_000_000

HILLIER = "A 2 -; B 4 A; C 10 B; D 6 C; E 4 C; F 5 E; G 7 D; H 9 E,G; I 7 C; J 8 F,I; K 4 J; L 5 J; M 2 H; N 6 K,L"
"""E3: Hillier & Lieberman, Introduction to Operations Research, "Reliable Construction Co."."""

HILLIER_THREE_POINT = (
    "A 1,2,3 -; B 2,3.5,8 A; C 6,9,18 B; D 4,5.5,10 C; E 1,4.5,5 C; F 4,4,10 E; G 5,6.5,11 D; H 5,8,17 E,G; "
    "I 3,7.5,9 C; J 3,9,9 F,I; K 4,4,4 J; L 1,5.5,7 J; M 1,2,3 H; N 5,5.5,9 K,L"
)
"""E4: the same with three-point times."""


def read_table(table: str) -> Plan:
    phases = []
    for row in table.split("; "):
        name, work, follows = row.split()
        points = [round(float(point) * 60) for point in work.split(",")]
        low, likely, high = points if len(points) == 3 else points * 3
        after = tuple(Predecessor(number(other)) for other in follows.split(",") if other != "-")
        phases.append(Phase(number(name), name, low, likely, high, after=after))
    return Plan(tuple(phases), ALWAYS, START)


def figures(text: str) -> dict[str, float]:
    """`A0 B2.5` as figures by activity."""
    return {item[0]: float(item[1:]) for item in text.split()}


def number(name: str) -> int:
    return int(name) if name.isdigit() else ord(name)


def solve(table: str) -> Schedule:
    plan = read_table(table)
    return schedule(plan, plan.starts)


def hours(minutes: float) -> float:
    return minutes / 60


def row(found: Schedule, name: str) -> PhaseDates:
    return found.of(number(name))


def names(found: Schedule) -> list[str]:
    """Critical paths as `A-B-C`."""
    return ["-".join(found.plan.by_id[phase].name for phase in path) for path in found.critical_paths]


def length(found: Schedule) -> float:
    return hours(found.finish - START)
