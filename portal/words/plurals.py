"""How many of a thing. Pure.

A plural is formed with an s unless it is given: English has no rule that a program could follow for all words.
"""

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")
"""Written out up to eight, where a sentence is read and no figure is looked for."""


def plural(number: float, one: str, many: str = "") -> str:
    """Choose the form that goes with a number: `hole` for 1, else `holes`, or `many` where that is given. For verbs,
    too: `plural(n, "is", "are")`."""
    return one if number == 1 else many or f"{one}s"


def counted(number: float, one: str, many: str = "") -> str:
    """Count in figures: `1 hole`, `3 holes`; `2 entries` where `many` is `entries`; `1.5 hours` of a fraction."""
    figures = f"{number:g}" if isinstance(number, float) else number
    return f"{figures} {plural(number, one, many)}"


def spelled(number: int, one: str, many: str = "") -> str:
    """Count in words up to eight: `no holes`, `one hole`, `three holes`; from nine on in figures: `12 holes`."""
    if 0 <= number < len(NUMBERS):
        return f"{NUMBERS[number]} {plural(number, one, many)}"
    return counted(number, one, many)


def each_of(number: int, one: str, many: str = "") -> str:
    """Say that something is true of all, for a verb in the singular: `the photo`, `each of the 3 photos`."""
    return f"the {one}" if number == 1 else f"each of the {counted(number, one, many)}"


def all_of(number: int, one: str, many: str = "") -> str:
    """Say that something is true of all, for a verb in the number's own form: `the one photo`, `all 3 photos`."""
    return f"the one {one}" if number == 1 else f"all {counted(number, one, many)}"


def times(number: int) -> str:
    """Say how often: `once`, `3 times`."""
    return "once" if number == 1 else counted(number, "time")
