"""How far away the day of an answer is, as a dimension: hook, a tick a day, ring, and the foot where the crew comes."""

from datetime import date

from portal.drawings.charts.time_marks import foot, line, ring, ticks, unheard
from portal.drawings.writers.markup import number

_WIDTH, _HEIGHT = 320.0, 18.0
_LEFT, _ROOM, _DAY = 10.0, 290.0, 20.0
"""In units of the drawing: where it begins, how long it may be, and a day; from 15 days on a day has less."""
_LEAST_DAY = 6.0
_LINE, _RING = 9.0, 5.0


def dimension(today: date, answer_by: date, comes: date | None = None) -> str:
    """Draw how far `answer_by` is from today, to scale, as an `<svg class="dim2">` whose words stand beside it. What is
    over goes back from the hook, dashed and red. `comes`: the day on which the crew comes, drawn from today on."""
    ahead, behind = (answer_by - today).days, max(0, (today - answer_by).days)
    foot_at = (comes - today).days if comes is not None and comes >= today else None
    length = behind + max(ahead, foot_at or 0, 0)
    unit = min(_DAY, _ROOM / length) if length else _DAY
    hook, answer = _LEFT + behind * unit, _LEFT + (behind + ahead) * unit
    crew = None if foot_at is None else hook + foot_at * unit
    end = max(x for x in (hook, answer, crew) if x is not None)
    by = 1 if unit >= _LEAST_DAY else 7
    days = [hook + day * unit for day in range(by, round((end - hook) / unit), by) if hook + day * unit != answer]
    body = "".join((
        line(f"M{number(hook)} 1v15h-7", stroke_width="3"),
        line(f"M{number(hook)} {number(_LINE)}H{number(end)}" if end > hook else "", "thin"),
        line(ticks(days, 6, 12), "thin"),
        line(foot(crew, 2), "ft") if crew is not None else "",
        line(f"M{number(hook)} {number(_LINE)}H{number(answer)}", "rd", stroke_dasharray="4 4") if behind else "",
        ring(answer, _LINE, _RING, "rd f" if behind else "bl f"),
    ))  # fmt: skip
    return unheard("dim2", _WIDTH, _HEIGHT, body)
