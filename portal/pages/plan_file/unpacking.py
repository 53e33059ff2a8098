"""A workbook's parts, unpacked by us before anybody reads them: what a zip says of its own sizes may be a lie."""

import io
import zipfile
import zlib
from collections.abc import Iterator

MOST_UNPACKED = 16 * 1024 * 1024
MOST_PARTS = 300
MOST_TAGS = 300_000
"""Of all parts: the reader makes an object of each, so that a megabyte of `<c/>` would become a hundred of memory."""
MOST_STYLE_TAGS = 30_000
"""It takes longest for these. A program allows 64,000 styles of cells; a plan has a handful."""
_STYLES = "xl/styles.xml"
_METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
"""What spreadsheet programs write (common practice). Python unpacks others whole, whatever is asked for."""
_PIECE = 1 << 16


class TooLarge(Exception):
    """It would unpack to more than a plan."""


class Damaged(Exception):
    """It is no zip that can be read."""


def unpacked(data: bytes) -> io.BytesIO:
    """The same parts, not packed: nobody who reads these unpacks anything. Raises TooLarge, Damaged.

    `ZipFile.read`, which the reader of workbooks calls, unpacks all that is there and then cuts off what its directory
    does not name: a part of a few kilobytes becomes gigabytes. Read in pieces, it stops at the size that is named.
    """
    out = io.BytesIO()
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed, zipfile.ZipFile(out, "w") as plain:
            parts = packed.infolist()
            if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
                raise TooLarge
            tags = 0
            for part in parts:
                text = b"".join(_pieces(packed, part))
                tags += text.count(b"<")
                if tags > MOST_TAGS or (part.filename == _STYLES and text.count(b"<") > MOST_STYLE_TAGS):
                    raise TooLarge
                plain.writestr(part.filename, text)
    # `zipfile` raises RuntimeError for a password and for what it lacks.
    except (zipfile.BadZipFile, ValueError, RuntimeError, EOFError, OSError, zlib.error) as error:
        raise Damaged from error
    return out


def _pieces(packed: zipfile.ZipFile, part: zipfile.ZipInfo) -> Iterator[bytes]:
    if part.compress_type not in _METHODS:
        raise Damaged
    with packed.open(part) as opened:
        while piece := opened.read(_PIECE):
            yield piece
