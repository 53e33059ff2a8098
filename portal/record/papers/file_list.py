"""The list of all files of a copy, signed: pages, photos and drawings prove nothing by themselves, the list does.

It is a text as `sha256sum --check` reads it, one line a file by its path; the signature is the raw 64 bytes of RFC 8032
over these bytes. No list can pass for a head, since that begins with a brace, nor a head for a list.
"""

import re
from collections.abc import Mapping

from portal.record.log.heads import signature_holds
from portal.record.papers.copy_paths import LIST, SIGNATURE
from portal.record.verdict import Fault

_LINE = re.compile(r"([0-9a-f]{64})  (.+)")


def file_list(hashes: Mapping[str, str]) -> bytes:
    """Write the list, from the SHA-256 (64 hex digits) of each file by its path.

    It leaves out itself and its signature.
    """
    return "".join(f"{hashes[path]}  {path}\n" for path in sorted(hashes) if path not in (LIST, SIGNATURE)).encode()


def check_list(hashes: Mapping[str, str], listed: bytes) -> None:
    """Check that the files are those of the list. `hashes`: the SHA-256 of each that is there, by its path.

    Raises Fault with the first file that was changed, added or taken out since the list was made.
    """
    if listed == file_list(hashes):
        return
    in_list = _hashes_of(listed)
    for path in sorted({*hashes, *in_list} - {LIST, SIGNATURE}):
        if path not in hashes:
            raise Fault(f"{path} is missing in the copy.")
        if path not in in_list:
            raise Fault(f"{path!r} was added to the copy: it is not in the list of its files.")
        if hashes[path] != in_list[path]:
            raise Fault(f"{path} was changed: it no longer has the hash that the list of files says.")
    raise Fault("the list of files was changed.")


def check_list_signature(listed: bytes, signature: bytes, public_key: str) -> None:
    """Check that the list is signed with this key (64 hex digits); `signature`: its 64 raw bytes. Raises Fault."""
    if not signature_holds(public_key, signature.hex(), listed):
        raise Fault("the list of files is not signed with the key of the record, or it was changed.")


def _hashes_of(listed: bytes) -> dict[str, str]:
    try:
        lines = [_LINE.fullmatch(line) for line in listed.decode().split("\n")[:-1]]
    except UnicodeDecodeError:
        raise Fault("the list of files can't be read: it was changed.") from None
    return {line[2]: line[1] for line in lines if line}
