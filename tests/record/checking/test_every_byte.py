"""No byte of a copy's zip can be another one, and nothing can be put before, between or after: each is found, in copies
of either form. Here some bytes are tried; `bash tests/long bytes` tries them all."""

import struct
import zipfile
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest

from portal.copying import own_copy
from portal.pages.own_copy.files import zipped
from portal.record.checking.returned_files import verify_file
from portal.record.log.heads import Signer
from portal.record.papers.copy_seal import form_file, sealed
from tests.demo_house import DemoHouse
from tests.house import NOW
from tests.record.chains import SIGNER, Record
from tests.record.copies import Files, copy_files, story, with_list
from tests.record.every_byte import unnoticed

OLD = (Path(__file__).parents[1] / "former" / "copy-of-form-1.zip").read_bytes()
"""As version 0.3.0 handed it out."""
STRIDE = 431  # a prime: over the runs, structure and content alike are met


def in_form_2(record: Record) -> Files:
    return with_list(copy_files(record) | {"record/form.txt": form_file()})


def new_copy() -> bytes:
    return sealed(zipped(in_form_2(story())), SIGNER)


def real_copy(demo: DemoHouse) -> bytes:
    return own_copy(2, demo.settings, NOW)


def faults(data: bytes) -> str:
    return verify_file(data).first_fault or ""


def test_a_copy_of_either_form_holds(demo: DemoHouse) -> None:
    for data in (OLD, new_copy(), real_copy(demo)):
        assert faults(data) == ""
    assert "Every byte of the zip is the one that was handed out." in verify_file(new_copy()).sentences


def test_some_bytes_of_a_real_copy_changed_are_all_found(demo: DemoHouse) -> None:
    data = real_copy(demo)
    assert unnoticed(data, range(0, len(data), STRIDE)) == []
    assert unnoticed(data, range(len(data) - 260, len(data), 3)) == [], "directory, end and seal"


def test_some_bytes_of_an_old_copy_changed_are_all_found() -> None:
    assert unnoticed(OLD, range(0, len(OLD), STRIDE)) == []
    assert unnoticed(OLD, range(len(OLD) - 260, len(OLD), 3)) == []


def places(data: bytes) -> Iterator[int]:
    """Before each file, before the directory and each of its lines, before the end, behind it."""
    with zipfile.ZipFile(BytesIO(data)) as archive:
        yield from (info.header_offset for info in archive.infolist())
    at = -1
    while (at := data.find(b"PK\1\2", at + 1)) >= 0:
        yield at
    yield data.rfind(b"PK\5\6")
    yield len(data)


@pytest.mark.parametrize("junk", [b"\0", b"PK\3\4", b"<p>Hello", bytes(300)])
def test_junk_at_any_place_is_found(junk: bytes) -> None:
    for data in (OLD, new_copy()):
        there = list(places(data))
        assert len(there) > 2 * 10
        for place in there:
            assert faults(data[:place] + junk + data[place:]), place


def moved(data: bytes, junk: bytes) -> bytes:
    """As a careful forger would: bytes between the files and the directory, and the end says where that is now."""
    end = data.rfind(b"PK\5\6")
    (directory,) = struct.unpack_from("<L", data, end + 16)
    fields = data[:end + 16] + struct.pack("<L", directory + len(junk)) + data[end + 20:]
    return fields[:directory] + junk + fields[directory:]


def test_junk_that_the_directory_allows_for_is_found() -> None:
    for data in (OLD, new_copy()):
        found = moved(data, b"a letter to nobody")
        assert zipfile.ZipFile(BytesIO(found)).testzip() is None, "for other programs, it is a whole zip"
        assert "packed anew" in faults(found)


def test_what_hides_behind_a_compressed_file_is_found() -> None:
    """Its length is put right in both places, so that programs that unpack it notice nothing."""
    data, junk = OLD, b"hidden"
    with zipfile.ZipFile(BytesIO(data)) as archive:
        last = archive.infolist()[-1]
    end = last.header_offset + 30 + len(last.filename) + last.compress_size
    entry = data.rfind(b"PK\1\2")
    size = struct.pack("<L", last.compress_size + len(junk))
    grown = data[:entry + 20] + size + data[entry + 24:]
    grown = grown[:last.header_offset + 18] + size + grown[last.header_offset + 22:]
    found = moved(grown[:end] + junk + grown[end:], b"")
    tail = found.rfind(b"PK\5\6")
    (directory,) = struct.unpack_from("<L", found, tail + 16)
    found = found[:tail + 16] + struct.pack("<L", directory + len(junk)) + found[tail + 20:]
    assert zipfile.ZipFile(BytesIO(found)).testzip() is None
    assert "packed anew" in faults(found)


def test_the_same_files_packed_by_another_program_are_said_to_be_packed_anew() -> None:
    out = BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for path, data in in_form_2(story()).items():
            archive.writestr(path, data)
    verdict = verify_file(out.getvalue())
    assert verdict.first_fault == "the zip was changed or packed anew: the seal at its end is not there."
    assert any("the list of its files is signed" in said for said in verdict.sentences), "the files are all ours"


def test_a_seal_of_another_key_or_copy_is_none() -> None:
    whole, other = zipped(in_form_2(story())), Signer(bytes(range(32, 64)))
    assert "is not that of these bytes" in faults(sealed(whole, other))
    assert "is not that of these bytes" in faults(sealed(whole, None))
    assert "the seal at its end is not there" in faults(whole)


def test_the_form_can_not_be_taken_off() -> None:
    """Else a copy could pass for an old one, which had no seal."""
    files = in_form_2(story())
    del files["record/form.txt"]
    assert faults(zipped(files)) == "record/form.txt is missing in the copy."


def test_a_form_to_come_is_said_to_be_unknown() -> None:
    files = with_list(copy_files(story()) | {"record/form.txt": form_file(3)})
    assert faults(zipped(files)) == "the copy is of form 3, which is unknown here."


def test_a_record_without_entries_has_a_hash_around_its_copy() -> None:
    empty = {path: data for path, data in copy_files(Record()).items() if not path.startswith(("decisions", "wording"))}
    data = sealed(zipped(with_list(empty | {"record/form.txt": form_file()})), None)
    assert faults(data) == ""
    assert unnoticed(data, range(0, len(data), 37)) == []
