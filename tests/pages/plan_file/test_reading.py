"""What is sent as a plan and can't be one: each gets its sentence, and nothing of it is computed or unpacked."""

import io
import struct
import tracemalloc
import zipfile
import zlib

import pytest
from openpyxl import Workbook

from portal.pages.plan_file.reading import MOST_BYTES, FileRefused, rows_of

HEAD = "Phase,Hours\n"
LINE = "Café floor;8"


def texts(data: bytes) -> list[list[str]]:
    return [[cell.text for cell in cells] for _, cells in rows_of(data)]


def refused(data: bytes) -> str:
    with pytest.raises(FileRefused) as found:
        rows_of(data)
    return str(found.value)


def book(*rows: list[object]) -> bytes:
    made, out = Workbook(), io.BytesIO()
    for row in rows:
        made.active.append(row)
    made.save(out)
    return out.getvalue()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_each_usual_way_to_write_letters_is_read(encoding: str, end: str) -> None:
    text = end.join(["Phase;Hours", LINE, "", "Grout;2"])
    assert texts(text.encode(encoding)) == [["Phase", "Hours"], ["Café floor", "8"], ["Grout", "2"]]
    assert [number for number, _ in rows_of(text.encode(encoding))] == [1, 2, 4]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_the_separator_is_found(separator: str) -> None:
    rows = [["Phase", "Hours"], ["Tile, large; and small", "8"]]
    quoted = "\n".join(separator.join(f'"{cell}"' if " " in cell else cell for cell in row) for row in rows)
    assert texts(quoted.encode()) == rows
    assert texts(f"sep={separator}\n{quoted}".encode()) == rows


@pytest.mark.parametrize(("data", "said"), [
    (b"", "The file is empty."),
    (b"\xef\xbb\xbf", "no lines"),
    (b"\n\n ,,\n", "no lines"),
    (b"x" * (MOST_BYTES + 1), "more than 4 MB"),
    (b"\xd0\xcf\x11\xe0old", "old kind"),
    (b"PK\x03\x04nothing", "damaged"),
    (b"\x89PNG\r\n\x1a\n", "This is no CSV or XLSX file."),
    (b"\x01\x02,\x03", "This is no CSV or XLSX file."),
    (b"P\0h\0a\0s\0e\0", "can\u2019t be read"),
    (b"Phase,Hours\nTi\x81le,8", "can\u2019t be read"),
    ((HEAD + '"Tile,8\nGrout,2').encode(), "a quotation mark is not closed"),
    ((HEAD + "Tile,8\n" * 10_000).encode(), "more than 200 lines"),
])  # fmt: skip
def test_what_is_no_plan_is_refused_in_a_sentence(data: bytes, said: str) -> None:
    assert said in refused(data)


def test_a_zip_that_unpacks_to_far_more_is_not_unpacked() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", b"\0" * 40_000_000)
    assert len(out.getvalue()) < 100_000
    assert "unpack to far more" in refused(out.getvalue())


def packed_anew(name: str, part: bytes, method: int = zipfile.ZIP_DEFLATED) -> bytes:
    """A workbook with this part for the one it had."""
    source, out = io.BytesIO(book(["Phase", "Hours"], ["Tile", 8])), io.BytesIO()
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(out, "w", method) as new:
        for one in old.namelist():
            new.writestr(one, part if one == name else old.read(one))
    return out.getvalue()


@pytest.mark.parametrize("method", [zipfile.ZIP_DEFLATED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_directory_that_lies_about_a_part_unpacks_no_more_than_it_says(method: int) -> None:
    """A reader that takes the whole part first would hold 12 MB of it, which bzip2 packs into a few bytes."""
    text, said = b" " * 12_000_000, 1000
    lying = bytearray(packed_anew("xl/workbook.xml", text, method))
    entry = lying.rindex(b"PK\x01\x02", 0, lying.rindex(b"xl/workbook.xml"))
    struct.pack_into("<I", lying, entry + 16, zlib.crc32(text[:said]))
    struct.pack_into("<I", lying, entry + 24, said)
    tracemalloc.start()
    try:
        assert "damaged" in refused(bytes(lying))
        assert tracemalloc.get_traced_memory()[1] < 4_000_000
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize(("name", "tag"), [("xl/styles.xml", b"<xf/>"), ("xl/worksheets/sheet1.xml", b"<c/>")])
def test_a_part_of_a_million_tags_is_not_read(name: str, tag: bytes) -> None:
    """The reader makes an object of each: 30 kB would hold a worker for minutes and two gigabytes."""
    assert "unpack to far more" in refused(packed_anew(name, b"<a>" + tag * 1_000_000 + b"</a>"))


def test_a_zip_that_is_no_sheet_is_refused() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("notes.txt", b"hello")
    assert "holds no sheet" in refused(out.getvalue())


def test_entities_in_a_sheet_are_not_followed() -> None:
    """A sheet whose XML declares entities (OWASP, XXE) is refused by the reader, not resolved."""
    source, out = io.BytesIO(book(["Phase", "Hours"], ["Tile", 8])), io.BytesIO()
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            text = old.read(name)
            if name.endswith("sheet1.xml"):
                at = text.index(b"?>") + 2 if text.startswith(b"<?xml") else 0
                text = text[:at] + b'<!DOCTYPE w [<!ENTITY a SYSTEM "file:///etc/passwd">]>' + text[at:]
            new.writestr(name, text)
    assert "damaged" in refused(out.getvalue())


def test_formulas_are_marked_and_not_computed() -> None:
    rows = rows_of(book(["Phase", "Hours"], ["Tile", "=4+4"], ["'=Tile", 8], ["+1 Tile", 1.25]))
    assert [(cell.text, cell.formula) for _, cells in rows[1:] for cell in cells if cell.text] == [
        ("Tile", False), ("=4+4", True), ("=Tile", False), ("8", False), ("+1 Tile", True), ("1.25", False),
    ]  # fmt: skip
    ((_, head), (_, cells)) = rows_of(b"Phase,Hours\n=cmd|' /C calc'!A0,8")
    assert cells[0].formula and not head[0].formula


def test_ten_thousand_rows_of_a_workbook_are_not_read_to_their_end() -> None:
    assert "more than 200 lines" in refused(book(["Phase", "Hours"], *[[f"Phase {n}", 1] for n in range(1000)]))
