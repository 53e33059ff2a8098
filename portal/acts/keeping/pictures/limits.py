"""What pictures are taken and how large: one table. The size stands in a picture's head, so what is over its limit is
refused before a pixel is decoded.

The limits follow from what decoding holds at once, measured by `python -m tests.bench.bench_photos`: a phone's JPEG is
scaled while it is decoded, and of a JPEG in several scans (progressive ones, too) all coefficients are held, two bytes
each (ITU-T T.81, G.1.1.1). Pillow holds four bytes a pixel of any picture in colors, libwebp's reader of animations
up to twenty-five, libtiff a whole strip more, libheif four and a half.
"""

from dataclasses import dataclass

DECODING_BYTES = 124 * 1024 * 1024
"""More than this no decoding may take, whatever the head says; the operating system sees to it."""


@dataclass(frozen=True, slots=True)
class Limit:
    """`pixels`: the most that a picture may have; `name`: what a person calls it; `scaled`: made smaller by its codec,
    so that its pixels are never held all at once."""

    name: str
    pixels: int
    scaled: bool = False


LIMITS = {
    "jpeg": Limit("a JPEG", 210_000_000, scaled=True),
    "jpeg scans": Limit("a progressive JPEG", 28_000_000, scaled=True),  # at most 3 bytes a pixel: colors in half size
    "jpeg scans full": Limit("a progressive JPEG", 14_000_000, scaled=True),  # 6 bytes
    "jpeg scans print": Limit("a progressive JPEG in print colors", 11_000_000, scaled=True),  # 8 bytes
    "png gray": Limit("a PNG", 60_000_000),  # a palette or gray: one byte a pixel
    "png": Limit("a PNG", 22_000_000),
    "gif gray": Limit("a GIF", 60_000_000),
    "gif": Limit("a GIF", 22_000_000),
    "tiff gray": Limit("a TIFF", 48_000_000),
    "tiff": Limit("a TIFF", 14_000_000),
    "webp": Limit("a WebP", 5_000_000),
    "heif": Limit("a HEIC", 24_600_000),
}
