"""What an option has beside its words: its finish with a swatch, and photos. It is read with care: what is kept may be
of any shape."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from portal.pages.cards.swatches import swatch_of
from portal.photo_files import is_photo_name
from portal.words.finishes.finish_words import finish_words, text_of


@dataclass(frozen=True, slots=True)
class Finish:
    """`words`: who makes it, which color. `sample`: where the sample lies, and that screens differ. `swatch`: its color
    as `#rrggbb`, or empty."""

    words: str
    sample: str
    swatch: str


@dataclass(frozen=True, slots=True)
class OptionPhoto:
    """`name`: of its files; `words`: what is read of it; size of the large one in pixels."""

    name: str
    words: str
    width: int
    height: int


def finish_of(option: Mapping[str, Any]) -> Finish | None:
    """The finish of an option as it is kept; None where it has none."""
    words, swatch = finish_words(option.get("finish")), swatch_of(option)
    if not words and not swatch:
        return None
    return Finish(words, _sample(option["finish"], swatch), swatch)


def photos_of(option: Mapping[str, Any]) -> list[OptionPhoto]:
    """The photos of an option as it is kept, in its order."""
    kept = option.get("photos")
    found = kept if isinstance(kept, list) else []
    title = str(option.get("title", ""))
    return [
        OptionPhoto(one["name"], one.get("caption") or f"Photo {at} of “{title}”", one["width"], one["height"])
        for at, one in enumerate(found, 1) if is_photo_name(str(one.get("name")))
    ]


def _sample(finish: Mapping[str, Any], swatch: str) -> str:
    where = text_of(finish, "sample_at")
    look = f"Look at the sample {where}." if where else ""
    return " ".join(filter(None, ("Screens differ." if swatch else "", look)))
