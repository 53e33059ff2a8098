"""Where a sentence begins, and where it goes on after a colon. Pure."""


def first_upper(text: str) -> str:
    """Write the first letter as a capital and leave the rest, which may hold names: `the Okafor house` is `The Okafor
    house`. Empty text stays empty."""
    return text[:1].upper() + text[1:]


def first_lower(text: str) -> str:
    """Write the first letter small and leave the rest, for a sentence that goes on after a colon. Empty text stays
    empty."""
    return text[:1].lower() + text[1:]
