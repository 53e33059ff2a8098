"""Pictures of the invented house, drawn line by line as a carpenter would sketch them."""

from collections.abc import Callable
from io import BytesIO

from PIL import Image, ImageDraw

WIDTH, HEIGHT = 1200, 900
_PAPER, _PENCIL, _SHADE = (246, 242, 232), (64, 60, 56), (205, 196, 180)
_STONE, _WATER = (150, 152, 156), (70, 104, 140)

Draw = ImageDraw.ImageDraw


def drawn(name: str) -> bytes:
    """The picture called `name`, as a JPEG file."""
    image = Image.new("RGB", (WIDTH, HEIGHT), _PAPER)
    _DRAWINGS[name](ImageDraw.Draw(image))
    out = BytesIO()
    image.save(out, "JPEG", quality=88)
    return out.getvalue()


def _wall(draw: Draw) -> None:
    _floor_line(draw)
    for x in range(80, WIDTH, 160):
        draw.rectangle((x, 120, x + 36, 760), _SHADE, _PENCIL, 3)
    draw.rectangle((60, 90, WIDTH - 60, 120), _SHADE, _PENCIL, 3)
    _window(draw)


def _pipes(draw: Draw) -> None:
    _wall(draw)
    for x, colour in ((560, _WATER), (620, (160, 70, 60))):
        draw.line((x, 760, x, 560, x + 180, 560), colour, 14, joint="curve")
    draw.line((700, 760, 700, 640, 460, 640), _STONE, 30, joint="curve")


def _floor(draw: Draw) -> None:
    for row in range(8):
        edge = 150 + row * 12 + row * row * 9
        draw.line((0, edge, WIDTH, edge), _PENCIL, 3)
    for column in range(-6, 19):
        draw.line((WIDTH // 2 + (column - 6) * 70, 150, WIDTH // 2 + (column - 6) * 190, HEIGHT), _PENCIL, 3)
    draw.rectangle((0, 0, WIDTH, 150), _SHADE)
    draw.ellipse((480, 60, 720, 240), _PAPER, _PENCIL, 5)


def _cabinets(draw: Draw) -> None:
    _floor_line(draw)
    _window(draw)
    for x in range(90, 1000, 230):
        draw.rectangle((x, 500, x + 220, 760), _SHADE, _PENCIL, 4)
        for y in (580, 670):
            draw.line((x + 10, y, x + 210, y), _PENCIL, 3)
        draw.line((x, 500, x + 220, 500), _PENCIL, 8)
    draw.line((60, 486, 1060, 486), _WATER, 4)
    draw.text((70, 440), "level", _PENCIL, font_size=36)


def _window(draw: Draw) -> None:
    draw.rectangle((440, 180, 760, 430), (222, 232, 238), _PENCIL, 6)
    draw.line((600, 180, 600, 430), _PENCIL, 5)
    draw.line((440, 305, 760, 305), _PENCIL, 5)


def _floor_line(draw: Draw) -> None:
    draw.line((0, 760, WIDTH, 760), _PENCIL, 6)
    for x in range(0, WIDTH, 60):
        draw.line((x, 764, x - 40, 820), _SHADE, 4)


_DRAWINGS: dict[str, Callable[[Draw], None]] = {
    "wall": _wall, "pipes": _pipes, "floor": _floor, "cabinets": _cabinets,
}
