"""One value, one row of bytes: canonical JSON (RFC 8785), its SHA-256, and the check code made of it."""

import hashlib
import json
from typing import Any

import rfc8785

from portal.record.log.unrecordable import LARGEST, NestedTooDeep, NotJson, refusal_of

# Between these, both write a broken number in plain digits, the fewest that tell it apart (ECMA-262, 7.1.12.1).
SMALLEST_PLAIN, LARGEST_PLAIN = 1e-4, 1e15

_SHORT = 12

_encode = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), sort_keys=True, allow_nan=False).encode


def canonical(value: Any) -> bytes:
    """The canonical JSON of a plain JSON value (RFC 8785), as UTF-8.

    Text is kept as it is: no Unicode normalising. Raises a NotRecordable that names the field.
    """
    try:
        # Most values need nothing of what the RFC adds to the standard encoder, which takes a third of the time.
        return _encode(value).encode() if _is_plain(value) else rfc8785.dumps(value)
    except RecursionError:
        raise NestedTooDeep("", "is nested too deep, or holds itself. Send it flatter.") from None
    except (rfc8785.CanonicalizationError, UnicodeEncodeError):
        raise refusal_of(value) or NotJson("", "has no canonical JSON.") from None


def read(data: bytes) -> Any:
    """The value in JSON as RFC 8785 sees it: a whole number beyond 2^53 - 1 is the double next to it.

    So whatever `canonical` wrote is read back to what it writes alike. Raises ValueError for what is not JSON.
    """
    try:
        return json.loads(data, parse_int=_integer)
    except RecursionError:
        raise NestedTooDeep("", "is nested too deep.") from None


def _integer(text: str) -> int | float:
    short = len(text) <= len(str(-LARGEST))
    return int(text) if short and abs(int(text)) <= LARGEST else float(text)


def digest(value: Any) -> str:
    """SHA-256 of the canonical JSON, as 64 hex digits."""
    return hashlib.sha256(canonical(value)).hexdigest()


def check_code(value: Any) -> str:
    """The long check code of what was shown: 64 hex digits."""
    return digest(value)


def short_code(code: str) -> str:
    """The check code as pages and sheets print it, `3fa9-01bc-77de`: the first 12 of its hex digits."""
    if len(code) < _SHORT or set(code) - set("0123456789abcdef"):
        raise ValueError(f"check code: {code!r} is not a row of at least {_SHORT} lower-case hex digits")
    return "-".join(code[i:i + 4] for i in range(0, _SHORT, 4))


def _is_plain(value: Any) -> bool:
    """Whether the standard encoder writes this exactly as the RFC wants it.

    So it does for every text, for whole numbers in range, for most broken ones, and for objects whose keys are
    ASCII: only beyond the Basic Multilingual Plane do code points sort otherwise than the RFC's UTF-16 units.
    """
    kind = type(value)
    if kind is dict:
        for key, item in value.items():
            if type(key) is not str or not key.isascii():
                return False
            if type(item) is not str and not _is_plain(item):
                return False
        return True
    if kind is list or kind is tuple:
        return all(map(_is_plain, value))
    if kind is float:
        return SMALLEST_PLAIN <= abs(value) < LARGEST_PLAIN and not value.is_integer()
    return kind is str or value is None or kind is bool or (kind is int and -LARGEST <= value <= LARGEST)
