"""How far a room is, as a folding rule: a link a phase, filled once it is done."""

from collections.abc import Sequence

from portal.drawings.symbols.line import Line, drawn

DONE, NOW, OPEN, HELD = "done", "now", "open", "held"
"""How a link stands: filled, half filled, empty, dashed where it waits for somebody or something."""

_LINK, _PITCH, _HIGH = 15, 17, 14


def folding_rule(states: Sequence[str]) -> str:
    """Draw a link for each of `states` (DONE, NOW, OPEN or HELD) in their order. Empty without any."""
    if not states:
        return ""
    lines = [
        Line(_links(states, (OPEN, NOW)), "f"), Line(_links(states, (HELD,)), "f hid"),
        Line(_links(states, (DONE,)), "fi"), Line(_links(states, (NOW,), _LINK // 2), "fi"),
    ]
    wide = _PITCH * len(states) + 1
    body = drawn(tuple(line for line in lines if line.d))
    size = f'width="{wide}" height="{_HIGH}" viewBox="0 0 {wide} {_HIGH}"'
    return f'<svg class="strip" {size} aria-hidden="true">{body}</svg>'


def _links(states: Sequence[str], wanted: tuple[str, ...], wide: int = _LINK) -> str:
    return "".join(
        f"M{1 + _PITCH * at} 1h{wide}v12h-{wide}z" for at, state in enumerate(states) if state in wanted
    )
