"""Colors as they are written for screens. Pure."""

_DIGITS = frozenset("0123456789abcdefABCDEF")


def is_color(text: object) -> bool:
    """Tell whether this is a color as `#rrggbb`."""
    return isinstance(text, str) and len(text) == 7 and text[0] == "#" and set(text[1:]) <= _DIGITS
