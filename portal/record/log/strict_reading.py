"""Strict reading of the record's files: canonical JSON with the expected fields and no others."""

from collections.abc import Mapping
from typing import Any

from portal.record.log.canonical import canonical, read
from portal.record.log.heads import Head, SignedHead, is_hex


class Misshapen(ValueError):
    """A file, or a field of it, that is not what it should be. `field` is its path, empty for the whole."""

    def __init__(self, field: str, why: str) -> None:
        super().__init__(f"{field}: {why}" if field else why)
        self.field = field


def read_canonical(data: bytes) -> Any:
    """Read a file that must be canonical JSON (RFC 8785), to the byte. Raises Misshapen."""
    try:
        value = read(data)
    except ValueError:
        raise Misshapen("", "it is not JSON. The file was cut off or changed; get it again.") from None
    if not is_canonical(value, data):
        raise Misshapen("", "it is not in its canonical form (RFC 8785): a space, an order or a letter was changed.")
    return value


def is_canonical(value: Any, data: bytes) -> bool:
    """Tell whether these bytes are the canonical form of the value that was read from them."""
    try:
        return canonical(value) == data
    except ValueError:
        return False


def fields(value: Any, where: str, names: Mapping[str, type]) -> dict[str, Any]:
    """Check that a value is an object with exactly these fields of exactly these types, and return it.

    `where` is the path to the value, empty for the whole file. A bool is no whole number. Raises Misshapen with the
    path of the first field that is missing, too many, or of another type.
    """
    if not isinstance(value, dict):
        raise Misshapen(where, "should be an object.")
    for name in (*names, *value):
        if name not in value:
            raise Misshapen(_path(where, name), "is missing.")
        if name not in names:
            raise Misshapen(_path(where, name), "is not a field of this file.")
        if type(value[name]) is not names[name]:
            raise Misshapen(_path(where, name), f"should be {_WORDS[names[name]]}.")
    return value


def signed_head(value: Any, where: str) -> SignedHead:
    """Read a signed head from its JSON object, `where` in the file. Raises Misshapen.

    Whether the signature holds is for verification to say.
    """
    found = fields(value, where, {"head": dict, "public_key": str, "signature": str})
    head = fields(found["head"], _path(where, "head"), {"project": int, "size": int, "root": str, "at": str})
    hexadecimal(head["root"], 64, _path(where, "head.root"))
    hexadecimal(found["public_key"], 64, _path(where, "public_key"))
    hexadecimal(found["signature"], 128, _path(where, "signature"))
    return SignedHead(Head(**head), found["public_key"], found["signature"])


def hexadecimal(text: Any, digits: int, where: str) -> bytes:
    """Read bytes from so many lower-case hex digits, `where` in the file. Raises Misshapen."""
    if not is_hex(text, digits):
        raise Misshapen(where, f"should be {digits} lower-case hex digits.")
    return bytes.fromhex(text)


_WORDS = {dict: "an object", list: "a list", str: "text", int: "a whole number"}


def _path(where: str, name: str) -> str:
    return f"{where}.{name}" if where else name
