"""One value, one row of bytes: canonical JSON (RFC 8785) and its SHA-256, which is the check code of what was shown."""

import hashlib
import json
from typing import Any

import rfc8785

from portal.record.log.unrecordable import LARGEST, NestedTooDeep, NotJson, refusal_of


def canonical(value: Any) -> bytes:
    """Write a plain JSON value in its canonical form (RFC 8785), as UTF-8.

    Text is kept as it is: no Unicode normalising. Raises a NotRecordable that names the field.
    """
    try:
        return rfc8785.dumps(value)
    except RecursionError:
        raise NestedTooDeep("", "is nested too deep, or holds itself. Send it flatter.") from None
    except (rfc8785.CanonicalizationError, UnicodeEncodeError):
        raise refusal_of(value) or NotJson("", "has no canonical JSON.") from None


def read(data: bytes) -> Any:
    """Read JSON as RFC 8785 sees it: a whole number beyond 2^53 - 1 is the double next to it.

    So whatever `canonical` wrote is read back to what it writes alike. Raises ValueError for what is not JSON,
    NestedTooDeep (a ValueError, too) for what no reader here can follow.
    """
    try:
        return json.loads(data, parse_int=_integer)
    except RecursionError:
        raise NestedTooDeep("", "is nested too deep.") from None


def digest(value: Any) -> str:
    """Hash a JSON value: the SHA-256 of its canonical form, as 64 lower-case hex digits. Raises a NotRecordable."""
    return hashlib.sha256(canonical(value)).hexdigest()


def _integer(text: str) -> int | float:
    # Longer digits are never made an int: Python refuses more than 4,300 of them (sys.set_int_max_str_digits).
    short = len(text) <= len(str(-LARGEST))
    return int(text) if short and abs(int(text)) <= LARGEST else float(text)
