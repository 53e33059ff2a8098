"""Several things in one sentence. Pure."""

from collections.abc import Iterable


def listed(words: Iterable[str], last: str = "and") -> str:
    """Join words as a sentence lists them: `the top, the drilling and the sink`. `last` stands before the last one:
    `and` or `or`. Empty for none."""
    *most, end = [*words] or [""]
    return f"{', '.join(most)} {last} {end}" if most else end


def quoted(names: Iterable[str]) -> str:
    """List names in quotation marks: `“Tile” and “Grout”`. Empty for none."""
    return listed([f"“{name}”" for name in names])
