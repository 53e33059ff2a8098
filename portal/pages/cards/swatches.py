"""The colors of a question about a finish, as the picture of its card: chips side by side, true in both themes."""

from collections.abc import Mapping, Sequence
from typing import Any

from markupsafe import Markup

from portal.words.finishes.colors import is_color
from portal.words.lists import listed

_MOST = 4
"""So many chips have room on a card."""


def swatch_picture(options: Sequence[Mapping[str, Any]]) -> Markup | None:
    """Draw a chip of each color, with its hole and its label; None where no option has a color."""
    colors = [swatch_of(one) for one in _chips(options)]
    if not colors:
        return None
    wide = min(38, (82 - 6 * (len(colors) - 1)) / len(colors))
    left = (84 - wide * len(colors) - 6 * (len(colors) - 1)) / 2
    chips = "".join(_chip(color, left + at * (wide + 6), wide) for at, color in enumerate(colors))
    return Markup(f'<svg class="pic" viewBox="0 0 84 84" aria-hidden="true">{chips}</svg>')  # figures of ours


def colors_of(options: Sequence[Mapping[str, Any]]) -> str:
    """Name the chips of the picture from left to right; empty where there is none."""
    return listed((str(one["title"]) for one in _chips(options)), "or")


def _chips(options: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    return [one for one in options if swatch_of(one)][:_MOST]


def swatch_scene(color: str) -> Markup | None:
    """Fill the place of a front view with a color as `#rrggbb`; None without one."""
    if not is_color(color):
        return None
    shape = f'<path fill="{color}" stroke="none" d="M0 0h320v96H0z"/>'
    look = 'class="scene sw" viewBox="0 0 320 96" preserveAspectRatio="none" aria-hidden="true"'
    return Markup(f"<svg {look}>{shape}</svg>")


def swatch_of(option: Mapping[str, Any]) -> str:
    """The color of an option's finish as `#rrggbb`; empty where it has none, or one that is kept otherwise."""
    finish = option.get("finish")
    color = finish.get("swatch") if isinstance(finish, Mapping) else None
    return str(color) if is_color(color) else ""


def _chip(color: str, x: float, wide: float) -> str:
    """A card of its color, and below it the paper on which its name stands."""
    name = f"M{x + 5:g} 64h{wide - 10:g}M{x + 5:g} 72h{(wide - 10) / 2:g}"
    return (
        f'<path class="f" d="M{x:g} 8h{wide:g}v72h-{wide:g}z"/>'
        f'<path fill="{color}" d="M{x:g} 8h{wide:g}v46h-{wide:g}z"/><path class="thin" d="{name}"/>'
    )
