"""Pictures as they are sent: small files of many pixels, each kind by its name; and heads that only say so."""

import struct
import zlib
from collections.abc import Callable
from io import BytesIO
from typing import Any

import pillow_heif
from PIL import Image

_ROWS = 278  # RowsPerStrip, TIFF 6.0


def flat(width: int, height: int, mode: str = "RGB") -> Image.Image:
    """Four fields, the upper left one red, so that it can be seen which way it stands."""
    picture = Image.new("RGB", (width, height), "navy")
    picture.paste("red", (0, 0, width // 2, height // 2))
    picture.paste("yellow", (width // 2, height // 2, width, height))
    return picture.convert(mode)


def saved(picture: Image.Image, kind: str, **given: Any) -> bytes:
    out = BytesIO()
    picture.save(out, kind, **given)
    return out.getvalue()


def heic(picture: Image.Image, tiles: int = 0, **given: Any) -> bytes:
    """`tiles`: as phones do it, a grid of squares of so many pixels."""
    pillow_heif.options.GRID_TILE_SIZE = tiles
    try:
        out = BytesIO()
        pillow_heif.from_pillow(picture).save(out, quality=40, **given)
        return out.getvalue()
    finally:
        pillow_heif.options.GRID_TILE_SIZE = 0


Drawn = Callable[[int, int], bytes]
KINDS: dict[str, Drawn] = {
    "jpeg": lambda w, h: saved(flat(w, h), "JPEG"),
    "print colors": lambda w, h: saved(flat(w, h, "CMYK"), "JPEG"),
    "progressive": lambda w, h: saved(flat(w, h), "JPEG", progressive=True),
    "progressive full": lambda w, h: saved(flat(w, h), "JPEG", progressive=True, subsampling=0),
    "progressive print": lambda w, h: saved(flat(w, h, "CMYK"), "JPEG", progressive=True),
    "scan by scan": lambda w, h: scan_by_scan(w, h),
    "png": lambda w, h: saved(flat(w, h), "PNG"),
    "png alpha": lambda w, h: saved(flat(w, h, "RGBA"), "PNG"),
    "png palette": lambda w, h: saved(flat(w, h, "P"), "PNG"),
    "png gray": lambda w, h: saved(flat(w, h, "L"), "PNG"),
    "png bits": lambda w, h: saved(flat(w, h, "1"), "PNG"),
    "png interlaced": lambda w, h: interlaced(w, h),
    "gif": lambda w, h: saved(flat(w, h, "P"), "GIF", interlace=1),
    "gif moving": lambda w, h: saved(flat(w, h), "GIF", save_all=True, append_images=[flat(w, h).rotate(180)]),
    "tiff": lambda w, h: saved(flat(w, h), "TIFF", compression="tiff_lzw"),
    "tiff raw": lambda w, h: saved(flat(w, h), "TIFF"),
    "tiff jpeg": lambda w, h: saved(flat(w, h), "TIFF", compression="jpeg"),
    "tiff one strip": lambda w, h: saved(flat(w, h), "TIFF", compression="tiff_deflate", tiffinfo={_ROWS: h}),
    "tiff alpha one strip": lambda w, h: saved(flat(w, h, "RGBA"), "TIFF", compression="tiff_deflate",
                                               tiffinfo={_ROWS: h}),
    "tiff fax": lambda w, h: saved(flat(w, h, "1"), "TIFF", compression="group4", tiffinfo={_ROWS: h}),
    "tiff gray": lambda w, h: saved(flat(w, h, "L"), "TIFF", compression="tiff_deflate", tiffinfo={_ROWS: h}),
    "webp": lambda w, h: saved(flat(w, h), "WEBP", method=0),
    "webp lossless": lambda w, h: saved(flat(w, h, "RGBA"), "WEBP", lossless=True, method=0),
    "webp moving": lambda w, h: saved(flat(w, h), "WEBP", method=0, save_all=True,
                                      append_images=[flat(w, h).rotate(180)]),
    "heic": lambda w, h: heic(flat(w, h)),
    "heic tiles": lambda w, h: heic(flat(w, h), 512),
    "heic alpha": lambda w, h: heic(flat(w, h, "RGBA")),
}  # fmt: skip


def png_head(width: int, height: int, color: int = 2, interlace: int = 0) -> bytes:
    """Of a picture whose pixels are not there (PNG, 11.2.2)."""
    head = struct.pack(">IIBBBBB", width, height, 8, color, 0, 0, interlace)
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", b"")


def interlaced(width: int, height: int) -> bytes:
    """An Adam7 picture of one color (PNG, 8.2): seven passes, each of rows with a byte for its filter before it."""
    passes = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))
    packing, data = zlib.compressobj(), b""
    for left, top, across, down in passes:
        columns, rows = -(-(width - left) // across), -(-(height - top) // down)
        if columns > 0:
            row = b"\0" + b"\xff\0\0" * columns
            data += b"".join(packing.compress(row) for _ in range(max(0, rows)))
    data += packing.flush()
    return png_head(width, height, interlace=1) + _chunk(b"IDAT", data) + _chunk(b"IEND", b"")


def scan_by_scan(width: int, height: int) -> bytes:
    """A baseline JPEG that has a scan for each component (T.81, B.2.3); its coefficients are held, too. Flat: each
    block is "no difference" and "end of block" in the tables of annex K.3, so every scan is one pattern of bits."""
    whole = saved(Image.new("RGB", (width, height), "gray"), "JPEG", subsampling=0)
    scan = whole.index(b"\xff\xda")
    head, parts = whole[:scan], []
    blocks = -(-width // 8) * -(-height // 8)
    for component, (tables, bits) in enumerate(((0x00, "001010"), (0x11, "0000"), (0x11, "0000")), 1):
        packed = _bits(bits, blocks)
        parts.append(b"\xff\xda" + struct.pack(">HBBBBBB", 8, 1, component, tables, 0, 63, 0) + packed)
    return head + b"".join(parts) + b"\xff\xd9"


def _bits(pattern: str, times: int) -> bytes:
    every = 8  # so many patterns are whole bytes
    piece = int(pattern * every, 2).to_bytes(len(pattern), "big")
    assert b"\xff" not in piece
    return piece * -(-times // every)


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
