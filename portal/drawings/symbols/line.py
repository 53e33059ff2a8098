"""One stroke of a symbol, a room picture or a mark, and how it is written."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """An SVG path. `d`: its data; `look`: classes of the page's styles, e.g. `f` for a fill of the card's color;
    `width`: of the stroke, 0 for the usual one."""

    d: str
    look: str = ""
    width: float = 0

    @property
    def markup(self) -> str:
        """Write it as an SVG `path`."""
        look = f' class="{self.look}"' if self.look else ""
        width = f' stroke-width="{self.width:g}"' if self.width else ""
        return f'<path{look} d="{self.d}"{width}/>'


def drawn(lines: tuple[Line, ...]) -> str:
    """Write the lines, the first one lowest."""
    return "".join(line.markup for line in lines)
