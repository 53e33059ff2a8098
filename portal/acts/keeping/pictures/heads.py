"""What a picture is and how large, from its head alone."""

from typing import IO

from PIL import Image

from portal.acts.keeping.pictures.limits import LIMITS

_ENOUGH = 32
_PLAIN = {"1", "L", "P"}  # one byte a pixel
_MAGIC = {
    b"\xff\xd8\xff": "JPEG", b"\x89PNG\r\n\x1a\n": "PNG", b"GIF87a": "GIF", b"GIF89a": "GIF",
    b"II*\0": "TIFF", b"MM\0*": "TIFF",
}  # fmt: skip
_HEIF_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}


class Unreadable(Exception):
    """No picture of a kind that we take."""


class TooLarge(Exception):
    """More pixels than its kind may have: `args` are the key of LIMITS and its pixels."""


def kind_of(file: IO[bytes]) -> str:
    """JPEG, PNG, GIF, TIFF, WEBP or HEIF. Raises Unreadable."""
    head = file.read(_ENOUGH)
    file.seek(0)
    for magic, kind in _MAGIC.items():
        if head.startswith(magic):
            return kind
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "WEBP"
    if head[4:8] == b"ftyp" and head[8:12] in _HEIF_BRANDS:
        return "HEIF"
    raise Unreadable()


def check_size(key: str, width: int, height: int) -> None:
    """Raises TooLarge, Unreadable."""
    if width < 1 or height < 1:
        raise Unreadable()
    if width * height > LIMITS[key].pixels:
        raise TooLarge(key, width * height)


def opened(file: IO[bytes], kind: str) -> Image.Image:
    """A picture whose head was read and whose size is within its limit; nothing of it is decoded. Not for HEIF.

    Raises TooLarge, Unreadable, and what Pillow raises.
    """
    if kind == "WEBP":  # its reader takes memory for two whole pictures as soon as it is asked
        check_size("webp", *_webp_size(file.read(_ENOUGH)))
        file.seek(0)
    picture = Image.open(file, formats=(kind,))
    check_size(_key(picture, kind, file), *picture.size)
    return picture


def _key(picture: Image.Image, kind: str, file: IO[bytes]) -> str:
    if kind == "JPEG":
        return _jpeg_key(picture, file)
    plain = " gray" if picture.mode in _PLAIN and kind != "WEBP" else ""
    return f"{kind.lower()}{plain}"


def _jpeg_key(picture: Image.Image, file: IO[bytes]) -> str:
    """In several scans: progressive, or a first scan that has not all components (T.81, B.2.3)."""
    layers: list[tuple[int, int, int, int]] = picture.layer  # type: ignore[attr-defined]
    length = 6 + 2 * len(layers)
    file.seek(file.tell() - length)  # Pillow stops behind the head of the first scan
    whole = file.read(3) == length.to_bytes(2, "big") + bytes([len(layers)])
    if whole and "progressive" not in picture.info:
        return "jpeg"
    most = max(across * down for _, across, down, _ in layers)
    coefficients = sum(across * down for _, across, down, _ in layers) / most
    return "jpeg scans" if coefficients <= 1.5 else "jpeg scans full" if coefficients <= 3 else "jpeg scans print"


def _webp_size(head: bytes) -> tuple[int, int]:
    """RFC 9649, 2.5 to 2.7: the head of what is lossy, lossless, or extended. (0, 0) for none of them."""
    chunk = head[12:16]
    if chunk == b"VP8X":
        return 1 + int.from_bytes(head[24:27], "little"), 1 + int.from_bytes(head[27:30], "little")
    if chunk == b"VP8L" and head[20:21] == b"\x2f":
        bits = int.from_bytes(head[21:25], "little")
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    if chunk == b"VP8 " and head[23:26] == b"\x9d\x01\x2a":
        return int.from_bytes(head[26:28], "little") & 0x3FFF, int.from_bytes(head[28:30], "little") & 0x3FFF
    return 0, 0
