"""How the zip of a copy of form 1 is laid out, to the byte: one file after the other, then the directory, then its end,
and nothing before, between or after.

Only inside a compressed file may a byte change and not show: where it unpacks to the very same file.
"""

import struct
import zlib
from typing import NamedTuple

from portal.record.verdict import Fault

_END = struct.Struct("<4s4H2LH")
_ENTRY = struct.Struct("<4s2B5H3L5H2L")
_FILE = struct.Struct("<4s5H3L2H")
_VERSION, _UNIX, _MADE, _MODE = 20, 3, (0, 0x21), 0o644 << 16
_STORED, _DEFLATED, _UTF8 = 0, 8, 0x800


class _Entry(NamedTuple):
    name: bytes
    method: int
    crc: int
    packed: int
    size: int

    @property
    def flags(self) -> int:
        return 0 if self.name.isascii() else _UTF8


def check_layout(data: bytes) -> None:
    """Check a zip that `zipfile` could read. Raises Fault."""
    try:
        holds = _is_ours(data)
    except (struct.error, zlib.error, IndexError):
        holds = False
    if not holds:
        raise Fault("the zip was changed or packed anew: something was put before, between or after its files.")


def _is_ours(data: bytes) -> bool:
    start = len(data) - _END.size
    mark, *disks, here, entries, length, directory, comment = _END.unpack_from(data, start)
    if (mark, disks, here, comment, directory + length) != (b"PK\5\6", [0, 0], entries, 0, start):
        return False
    place = 0
    for _ in range(entries):
        read, directory = _in_directory(data, directory, place)
        if read is None:
            return False
        head = _head(read)
        packed = data[place + len(head):place + len(head) + read.packed]
        if data[place:place + len(head)] != head or not _is_whole(read, packed):
            return False
        place += len(head) + read.packed
    return bool(directory == start and place == start - length)


def _in_directory(data: bytes, at: int, place: int) -> tuple[_Entry | None, int]:
    """The entry there, if it says of the file at this place what ours says; and where the next one is."""
    fields = _ENTRY.unpack_from(data, at)
    _, _, _, _, _, method, _, _, crc, packed, size, named, *_ = fields
    end = at + _ENTRY.size + named
    entry = _Entry(data[at + _ENTRY.size:end], method, crc, packed, size)
    ours = (b"PK\1\2", _VERSION, _UNIX, _VERSION, entry.flags, method, *_MADE, crc, packed, size, named, 0, 0, 0, 0,
            _MODE, place)  # fmt: skip
    return (entry if fields == ours and method in (_STORED, _DEFLATED) else None), end


def _head(entry: _Entry) -> bytes:
    """What stands before a file."""
    fields = (_VERSION, entry.flags, entry.method, *_MADE, entry.crc, entry.packed, entry.size, len(entry.name), 0)
    return _FILE.pack(b"PK\3\4", *fields) + entry.name


def _is_whole(entry: _Entry, packed: bytes) -> bool:
    """Whether nothing hides behind the end of a compressed file."""
    if entry.method == _STORED:
        return len(packed) == entry.size
    unpacking = zlib.decompressobj(-zlib.MAX_WBITS)
    unpacked = unpacking.decompress(packed, entry.size + 1)
    return unpacking.eof and not unpacking.unused_data and len(unpacked) == entry.size
