"""A deck scene that the drawing tests share: a 33 in strip behind a sink, three holes 1-3/8 in, 4 in apart.

The geometry is the shapely row of the check values: x 12.5, 16.5, 20.5 in, y 2 in of a 33 x 4 in strip.
"""

from typing import Any

from portal.acts.decisions.layout_options import kept
from portal.drawings.scenes.layers import Layer
from portal.drawings.scenes.scene import Circle, Dimension, Hatch, Item, Label, Line, Rect, Scene, Side
from portal.drawings.sheets.kept_sheet import words_of_kept
from portal.drawings.sheets.sheet import Sheet
from portal.layouts.layout import Layout

INCH = 25.4
HOLE_XS = (12.5 * INCH, 16.5 * INCH, 20.5 * INCH)
HOLE_Y = 2 * INCH
HOLE = 34.925
STRIP = (33 * INCH, 4 * INCH)


def hole(name: str, x: float) -> list[Item]:
    return [
        Circle(Layer.HOLE, x, HOLE_Y, HOLE, center_mark=True, note=f"{name}: 1-3/8 in (34.9 mm)"),
        Circle(Layer.FLANGE, x, HOLE_Y, 55.0),
        Label(x, HOLE_Y + 27.5, name, Side.ABOVE),
    ]


def deck_scene() -> Scene:
    width, depth = STRIP
    wall = ((0.0, depth), (width, depth), (width, depth + 40), (0.0, depth + 40))
    items: list[Item] = [
        Rect(Layer.EDGE, 0, 0, width, depth),
        Rect(Layer.CUT_OUT, 40, -420, width - 80, 400, radius=25),
        Hatch(wall),
        Line(Layer.WALL, 0, depth, width, depth),
        Line(Layer.CENTER_LINE, width / 2, -460, width / 2, depth + 20),
        Label(width / 2, -220, "sink cut-out", Side.CENTER),
        Label(width / 2, depth + 40, "back wall", Side.ABOVE),
    ]
    for name, x in zip("ABC", HOLE_XS, strict=True):
        items += hole(name, x)
        items.append(Dimension(0, 0, x, HOLE_Y, f"{x / INCH:g} in", Side.BELOW))
    items.append(Dimension(HOLE_XS[0], HOLE_Y, HOLE_XS[1], HOLE_Y, "4 in", Side.ABOVE))
    items.append(Dimension(HOLE_XS[1], HOLE_Y, HOLE_XS[2], HOLE_Y, "4 in", Side.ABOVE))
    items.append(Dimension(HOLE_XS[2], HOLE_Y, 0, depth, "2 in", Side.LEFT))
    words = "Three holes 1-3/8 in: A, B and C, 12-1/2, 16-1/2 and 20-1/2 in from the left edge, 2 in from the back."
    return Scene("Three holes behind the sink", words, tuple(items))


def sheet_of(layout: Layout, **changed: Any) -> Sheet:
    """The sheet of a layout that nobody has approved."""
    unapproved = {"approved_by": "", "approved_at": "", "call": "", "option": layout.title}
    return Sheet(**whose(**words_of_kept(kept(layout))) | unapproved | changed)


def whose(**more: Any) -> dict[str, Any]:
    """Whose sheet it is, who approved it, and what keeps the crew safe; `more`: what it says of its layout."""
    return {
        "house": "12 Alder Court", "room": "Kitchen", "decision": 7, "revision": 1, "question": "Where does it go?",
        "option": "As drawn", "check_code": "3fa9-01bc-77de", "call": "Ana Ruiz, 555-0142",
        "page_url": "https://example.com/check/3fa9-01bc-77de/", "approved_by": "Ana Ruiz",
        "approved_at": "Thu Dec 3, 2026, 6:12 pm", "cautions": ("The maker's sheet and the local code come first.",),
        **more,
    }  # fmt: skip


def approved_sheet() -> Sheet:
    return Sheet(
        house="12 Alder Court",
        room="Kitchen",
        decision=4,
        revision=2,
        question="How many holes behind the kitchen sink, and where?",
        option="Three holes: faucet in the middle, handle right, sprayer left",
        check_code="3fa9-01bc-77de",
        page_url="https://example.com/check/3fa9-01bc-77de/",
        columns=("Hole", "For", "Diameter", "From the left edge", "From the back edge"),
        rows=(
            ("A", "sprayer", "1-3/8 in (34.9 mm)", "12-1/2 in (317.5 mm)", "2 in (50.8 mm)"),
            ("B", "faucet", "1-3/8 in (34.9 mm)", "16-1/2 in (419.1 mm)", "2 in (50.8 mm)"),
            ("C", "handle", "1-3/8 in (34.9 mm)", "20-1/2 in (520.7 mm)", "2 in (50.8 mm)"),
        ),
        cautions=(
            "Stone dust: It harms the lungs for good. Drill wet.",
            "Lifting: A stone top can crush a hand or a foot.",
        ),
        approved_by="Łucja Nguyễn",
        approved_at="Thu Dec 3, 2026, 6:12 pm",
        measured_from="Measured to the center of each hole, from the left edge of the top and its back edge.",
        checks=("Hole to hole: 2-5/8 in of stone between A and B; the fabricator asks for 2 in.",),
        call="Ana Ruiz, 555-0142",
    )
