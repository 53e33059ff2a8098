"""What an option may have beside its words: photos, and, for a finish, who makes it, its color, where the sample lies.

All of it stands in the option, so it is part of what is shown, and of the check code; of a photo its hash is.
"""

from typing import Any

from portal.photo_files import is_photo_name, name_by
from portal.store.refusals import FieldRefused
from portal.words.finishes.colors import is_color

Values = dict[str, Any]

FINISH = ("maker", "line", "color", "number", "sample_at", "swatch")
PHOTO = ("name", "caption", "width", "height", "sha256")
MOST_PHOTOS = 6
"""Of one option."""
_DIGITS = frozenset("0123456789abcdef")


def with_extras(options: list[Values]) -> list[Values]:
    """Check finish and photos of each option; what says nothing is left out, so that an option without them is kept as
    before there were any. Raises FieldRefused with the path of what can't be used.

    A photo is one that `portal.acts.keeping.photos` has kept: its name, size and SHA-256.
    """
    return [_whole(one, f"options.{at}") for at, one in enumerate(options)]


def extras_told(option: Values) -> Values:
    """What the entry of an approval says of them: the finish, and the hashes of the photos. Empty for an option without
    either."""
    finish, photos = option.get("finish"), option.get("photos")
    return ({"finish": finish} if finish else {}) | ({"photos": [one["sha256"] for one in photos]} if photos else {})


def _whole(option: Values, path: str) -> Values:
    rest = {name: value for name, value in option.items() if name not in ("finish", "photos")}
    finish, photos = _finish(option.get("finish"), f"{path}.finish"), _photos(option.get("photos"), f"{path}.photos")
    return rest | ({"finish": finish} if finish else {}) | ({"photos": photos} if photos else {})


def _finish(sent: Values | None, path: str) -> Values:
    said = {name: ((sent or {}).get(name) or "").strip() for name in FINISH}
    finish = {name: text for name, text in said.items() if text}
    swatch = finish.get("swatch")
    if swatch and not is_color(swatch):
        raise FieldRefused(f"{path}.swatch", "Write the color as # and six digits or letters a to f: #d9d2c3.")
    if finish and "color" not in finish:
        raise FieldRefused(f"{path}.color", "Name the color: each screen shows it otherwise.")
    return finish | ({"swatch": swatch.lower()} if swatch else {})


def _photos(sent: list[Values] | None, path: str) -> list[Values]:
    photos = sent or []
    if len(photos) > MOST_PHOTOS:
        raise FieldRefused(path, f"An option has at most {MOST_PHOTOS} photos.")
    for at, one in enumerate(photos):
        if not _is_kept(one):
            raise FieldRefused(f"{path}.{at}.name", "No photo of this name is kept for this house. Send it first.")
    return [{name: one.get(name) or "" if name == "caption" else one[name] for name in PHOTO} for one in photos]


def _is_kept(one: Values) -> bool:
    name, code = one.get("name"), one.get("sha256")
    whole = isinstance(code, str) and len(code) == 64 and set(code) <= _DIGITS
    sized = all(isinstance(one.get(side), int) for side in ("width", "height"))
    return isinstance(name, str) and is_photo_name(name) and whole and name_by(str(code)) == name and sized
