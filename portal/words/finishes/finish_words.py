"""A finish in words: who makes it, which color, which number. It is read with care, whatever was kept. Pure."""

from collections.abc import Mapping
from typing import Any


def finish_words(kept: Any) -> str:
    """Who makes it and which color it is: `Harborstone Fine, Linen 12, no. HS-212`. Empty for none."""
    said = kept if isinstance(kept, Mapping) else {}
    maker = " ".join(filter(None, (text_of(said, "maker"), text_of(said, "line"))))
    number = f"no. {text_of(said, 'number')}" if text_of(said, "number") else ""
    return ", ".join(filter(None, (maker, text_of(said, "color"), number)))


def text_of(said: Mapping[str, Any], name: str) -> str:
    """Give a text of it; empty where it has none, or none that is text."""
    value = said.get(name)
    return value if isinstance(value, str) else ""
