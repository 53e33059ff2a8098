"""How long something rests, as guidance says it. Pure."""

from portal.words.plurals import counted

_LONGEST_IN_HOURS = 72


def cure_words(least: int | None, most: int | None, more: bool = False) -> str:
    """Say a wait of `least` to `most` hours: `24 hours or more`, `48 to 72 hours`, `7 to 21 days or more`. None: the
    label says it."""
    if least is None or most is None:
        return "as its label says"
    unit, of = ("hour", 1) if most <= _LONGEST_IN_HOURS or least % 24 or most % 24 else ("day", 24)
    shortest = "" if least == most else f"{least // of} to "
    return f"{shortest}{counted(most // of, unit)}{' or more' if more else ''}"
