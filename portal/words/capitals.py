"""Where a sentence begins. Pure."""


def first_upper(text: str) -> str:
    """Write the first letter as a capital and leave the rest, which may hold names: `the Okafor house` is `The Okafor
    house`. Empty text stays empty."""
    return text[:1].upper() + text[1:]
