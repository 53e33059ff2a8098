"""Sums of US dollars, and what an option does to the price. Pure; amounts are whole cents."""

from portal.words.capitals import first_upper

MINUS = "\N{MINUS SIGN}"
"""A hyphen may be read over at the end of a line, or taken for a dash; this is wide, and read aloud as “minus”."""


def money(cents: int) -> str:
    """Say a sum: `$1,240`, `$12.50`; below zero with its sign, `−$6,695.56`."""
    whole, rest = divmod(abs(cents), 100)
    return f"{MINUS if cents < 0 else ''}${whole:,}" + (f".{rest:02}" if rest else "")


def price_change(cents: int | None) -> str:
    """Say what an option does to the price, for use inside a sentence: `adds $45 to the price`, `takes $30 off the
    price`. `cents` is the difference; None where nothing was said about it."""
    if cents is None:
        return "says nothing about the price"
    if cents == 0:
        return "does not change the price"
    return f"adds {money(cents)} to the price" if cents > 0 else f"takes {money(-cents)} off the price"


def price_changed(cents: int | None) -> str:
    """Say the same where there is room for two words: `no change`, `$45 more`, `$30 less`; empty for None."""
    if cents is None:
        return ""
    if cents == 0:
        return "no change"
    return f"{money(abs(cents))} {'more' if cents > 0 else 'less'}"


def price_words(cents: int | None) -> str:
    """Say what an option does to the price, as a sentence: `Adds $45 to the price.` Empty for None, where nothing was
    said about it."""
    if cents is None:
        return ""
    return f"{first_upper(price_change(cents))}."
