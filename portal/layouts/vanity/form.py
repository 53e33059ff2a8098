"""The blanks of a vanity, of those who use it and of what hangs over it, and what is published for them."""

from portal.layouts.check import PRACTICE, Suggestion
from portal.layouts.form import CHOICE, COUNT, FLAG, WORDS, Blank, Form, Part, needed, pick, source_of_minimums
from portal.layouts.vanity import words
from portal.layouts.vanity.dimensions import HELD, MOST_PEOPLE

CAUTIONS = ("electricity", "eyes_and_ears", "old_paint", "ladders_and_floor", "water")

FORM: Form = (
    Part("", "The vanity", (
        needed("counter", "Height of the counter, from the finished floor"),
        Blank("splash", "How far the splash rises above the counter", hint="Empty: there is none."),
        needed("tap", "How far the tap rises above the counter", hint="With its lever raised."),
        Blank("ceiling", "Height of the ceiling", hint="Of a soffit, where one is lower. Empty: not checked."),
        Blank("wall", "Width of the wall that is free for mirror and lamps", hint="Empty: not checked."),
        Blank("seated", "Does somebody use it seated?", FLAG),
    ), needed=True),
    Part("people", "Who stands at the mirror", (
        needed("name", "What we call them", WORDS, hint="A first name, or such as: the tallest."),
        needed("eyes", "Height of the eyes, from the floor", hint="As they stand or sit there."),
        needed("height", "Height of the top of the head"),
        Blank("down_to", "The lowest point of themselves that they want to see",
              hint="Its height from the floor, such as that of the collar. Empty: their face."),
    ), needed=True, rows=2, most=MOST_PEOPLE),
    Part("mirror", "The mirror", (
        Blank("height", "Height of its glass", hint="Empty: it is still to be chosen."),
        Blank("width", "Width of its glass"), Blank("frame", "Frame around the glass, on each side"),
    ), hint="Empty: still to be chosen. For a cabinet, its door.",
         picks=(pick("mirror", "height", "width", "frame"),)),
    Part("minimums", "Least distances", (
        needed("above_splash", "From the splash, or the counter, up to the mirror"),
        Blank("above_tap", "From the tap up to the mirror", hint="Empty: the mirror may go on behind it."),
        source_of_minimums("The maker of the mirror or the tiler"),
    ), needed=True),
    Part("lights", "Lamps at the mirror", (
        needed("number", "How many", COUNT), needed("height", "Height of one, over all"),
        Blank("width", "Width of one, over all"),
        needed("off_mirror", "Least from the mirror, or its open door, to a lamp"),
        Blank("held", "How they are held", CHOICE, choices=HELD, hint="Empty: fixed to the wall."),
    ), hint="Empty: no lamps are decided.", picks=(pick("lamp", "height", "width", "held"),)),
    Part("window", "A window that swings in over the tap", (
        needed("sash", "Lower edge of its sash, from the floor"), needed("to_tap", "Least from it to the tap"),)),
    Part("tub", "A tub or shower near it", (
        needed("rim", "Height of its rim or threshold"), needed("off", "From it to the nearest lamp, across"),)),
    Part("knees", "Room for knees", (
        needed("height", "Clear height under the front"),
        needed("depth_high", "How deep it is 27 in above the floor"),
        needed("depth_low", "How deep it is 9 in above the floor"),
    ), hint="Where somebody sits at it. Empty: not checked."),
)  # fmt: skip


def suggestions() -> tuple[Suggestion, ...]:
    """Give what is published for counter, mirror, lamps and knees; for distances from a splash there is nothing."""
    return (
        Suggestion("counter", "32 to 43 in, to fit who uses it", words.BATH),
        Suggestion("counter", "at most 34 in for somebody seated", words.ADA_LAVATORY),
        Suggestion("seated", "then the glass begins at most 40 in above the floor", words.ADA_MIRROR),
        Suggestion("lights.number", "lamps beside the mirror at eye height", words.BATH),
        Suggestion("lights.off_mirror", "28 to 60 in from lamp to lamp beside a small mirror", words.BOOK),
        Suggestion("tub.off", "nothing that hangs within 3 ft across and 8 ft above the rim", words.ZONE),
        Suggestion("knees.depth_high", "8 in of depth at 27 in, 11 in at 9 in", words.ADA_KNEES),
        Suggestion("minimums.above_splash", "no published distance is known: ask the maker of the mirror", PRACTICE),
    )
