"""Zips that were made to harm or that were changed: each is refused with a sentence, and none is let grow."""

import io
import struct
import zipfile

import pytest

from portal.record.checking.returned_files import heads_in, keys_in, verify_file
from portal.record.checking.zip_reading import read_zip
from portal.record.verdict import Fault


def packed(files: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return out.getvalue()


SMALL = packed({"record/record.json": b'{"record":1}', "index.html": b"<p>Hello"})


def refused(data: bytes) -> str:
    """The sentence; and whoever only looks for heads and keys meets no error."""
    assert heads_in(data) == [] and keys_in(data) == set()
    verdict = verify_file(data)
    assert verdict.first_fault
    return verdict.first_fault


def test_each_file_has_its_hash_and_only_what_proves_something_is_kept() -> None:
    found = read_zip(SMALL)
    assert set(found.hashes) == {"record/record.json", "index.html"} and set(found.files) == {"record/record.json"}


def test_what_would_grow_beyond_measure_is_not_unpacked() -> None:
    assert "beyond all measure" in refused(packed({"photos/big.jpg": bytes(50_000_000)}))
    assert "beyond all measure" in refused(packed({f"photos/{n}.jpg": bytes(1_000_000) for n in range(40)}))
    assert len(read_zip(packed({"index.html": bytes(1_000_000)})).hashes) == 1


def test_the_measure_is_a_hundred_times_its_size_and_ten_million_bytes_more() -> None:
    """What the directory says is judged, before anything is unpacked."""
    most = len(SMALL) * 100 + 10_000_000
    directory = SMALL.rfind(b"PK\x01\x02")
    others = len(b'{"record":1}')
    for size, too_much in ((most - others, False), (most - others + 1, True)):
        said = SMALL[:directory + 24] + struct.pack("<I", size) + SMALL[directory + 28:]
        assert ("beyond all measure" in refused(said)) is too_much


@pytest.mark.parametrize(("at", "value"), [
    (10, b"\x63\0"),  # a compression that nobody has
    (10, b"\x0c\0"),  # another than it is packed with
    (8, b"\1\0"),  # a password
    (8, b"\x20\0"),  # a patch
    (6, b"\xff\xff"),  # a version to come
    (42, b"\xff\xff\xff\x7f"),  # a place behind the end
    (24, b"\0\0\0\0"),  # no length
])
def test_a_changed_directory_is_said(at: int, value: bytes) -> None:
    data = bytearray(SMALL)
    start = data.find(b"PK\x01\x02") + at
    data[start:start + len(value)] = value
    assert "cut off or changed" in refused(bytes(data))


def test_every_byte_of_a_small_zip_changed_raises_nothing_but_a_fault() -> None:
    for place in range(len(SMALL)):
        for value in (0, 1, 0x20, 0x7F, 0xFF):
            changed = SMALL[:place] + bytes([value]) + SMALL[place + 1:]
            try:
                read_zip(changed)
            except Fault:
                continue


def test_a_directory_said_to_lie_before_the_beginning_is_said() -> None:
    end = len(SMALL) - 22
    wrong = SMALL[:end + 16] + struct.pack("<I", 0xFFFFFFF0) + SMALL[end + 20:]
    assert "cut off or changed" in refused(wrong)


def test_one_name_twice_is_refused() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive, pytest.warns(UserWarning, match="Duplicate name"):
        archive.writestr("index.html", b"one")
        archive.writestr("index.html", b"two")
    assert "twice" in refused(out.getvalue())
