"""Symbols on a page: each place uses one by its name, and the page holds the shape of each that it uses, once."""

import re

from portal.drawings.symbols.line import drawn
from portal.drawings.symbols.shapes import FIELD, SYMBOLS

_USED = re.compile(r'<use href="#s-([a-z-]+)"')


def use(key: str, look: str = "d") -> str:
    """Write the place of a symbol. `key`: of SYMBOLS; `look`: its classes, `d` is that of a thing in a room. Its words
    stand beside it, so that nobody is read a picture. Raises KeyError for one that is not there."""
    if key not in SYMBOLS:
        raise KeyError(key)
    return f'<svg class="{look}" aria-hidden="true"><use href="#s-{key}"/></svg>'


def shapes_used(markup: str) -> str:
    """Write the shapes that `markup` uses, each once, as a drawing that takes no room; nothing where it uses none."""
    used = sorted(set(_USED.findall(markup)) & set(SYMBOLS))
    if not used:
        return ""
    box = f"0 0 {FIELD} {FIELD}"
    shapes = "".join(f'<symbol id="s-{key}" viewBox="{box}">{drawn(SYMBOLS[key])}</symbol>' for key in used)
    return f'<svg width="0" height="0" aria-hidden="true">{shapes}</svg>'


def with_shapes(page: str) -> str:
    """Write the page with the shapes that it uses at the end of its body, whoever placed them."""
    body, end, rest = page.rpartition("</body>")
    return f"{body}{shapes_used(body)}{end}{rest}"
