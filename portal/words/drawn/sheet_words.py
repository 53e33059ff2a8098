"""What every printed sheet says to the crew, whatever it is for: whose it is, what to check first, how a template is
laid, how its pages join. Pure."""

from collections.abc import Iterable, Sequence

from portal.words.capitals import first_upper
from portal.words.lists import listed
from portal.words.plurals import plural

NOT_APPROVED = "NOT APPROVED - DO NOT CUT OR DRILL"
NOT_YET = "This option of this revision is not approved."
FAILS, NOT_APPROVED_LAYER = "FAILS", "NOT_APPROVED"
DRILLING_SHEET = "Drilling sheet"

MEASURE_PIECE = "Measure the piece, and each distance from its edges, yourself."
MARK_COLUMNS = ("Mark", "Measured from", "Distance")

DONT_DRILL, DONT_CUT = "Don't drill.", "Don't cut."
NO_HOLES_BY_THIS = "No hole is drilled or cut by this sheet. Don't cut or drill one by it."
DETAIL_COLUMNS = ("What", "Size")

CHECK_FIRST, KEEP_SAFE, WHAT_WAS_CHECKED = "Check first", "Keep safe", "What was checked"
FOUND_COLUMNS = ("Found on the day", "As drawn", "As found")
MEASURED_BY, READ_BACK_BY = "Measured by", "Read back aloud by a second person"
ABOUT = "“about” before mm: rounded to 0.1 mm, and so off by 0.05 mm at most. All other lengths are exact."
BARS = "Printed at full size? Measure both bars on each template page: 100 mm and 4 in."

TOO_FAR = "Not full size, and no full-size template: the holes lie too far apart for one. Measure each one."
NO_TEMPLATE = "Not full size."
NO_HOLES = "Not full size, and no full-size template: there are no holes to drill here."
FOLLOWS = "Not full size here. The full-size template follows."

PRINT_AT_FULL_SIZE = (
    "Print at 100 %, never fitted to the page. Measure both bars: if one is off by 0.5 mm (1/64 in), "
    "don't use this page."
)
WHOLE_TEMPLATE = "This page is the whole template."
ZONES = "Dotted: where each center may lie"
UP, UP_TO_WALL = "up", "up: to the wall"
BAR_ALONG, BAR_UP = "100 mm", "4 in"

UNIT = "Unit: millimeter. 1 drawing unit = 1 mm."
OPEN_OUTLINE = (
    "The outline of the top is not closed: only a part of the top was given, or its drawing was kept without it."
)
RECTANGLE = "Closed outlines are as they were given: measure before anything is cut."
NOT_TO_SCALE = (
    "Not to scale: all that is on the layer REFERENCE_NOT_TO_SCALE. Nobody gave its size: cut nothing from it."
)
CENTERS_ONLY = "Holes without a circle are centers only: drill size from the maker's sheet."

_WHOSE = {"given with the dimensions": "the makers' sheets, as entered", "geometry": "the sizes themselves"}


def superseded(by: int) -> str:
    """Overprint a sheet of which there is a later revision."""
    return f"SUPERSEDED BY REVISION {by} - DO NOT CUT OR DRILL"


def fails(rules: Sequence[str]) -> str:
    """Overprint a sheet of a layout that breaks rules. `rules`: each by its name, such as `hole to cut-out`; the first
    two names are told, once each, so that it can be read across a page."""
    names = [*dict.fromkeys(rules)]
    more = [f"and {len(names) - 2} more"] if len(names) > 2 else []
    return f"{FAILS}: {'; '.join([*names[:2], *more])}"


def fails_in_full(sentence: str) -> str:
    """Say a rule that it breaks. `sentence`: of the check."""
    return f"{FAILS}: {sentence}"


def despite(by: str, reason: str) -> str:
    """Say by whom, and why, it is offered although it fails."""
    return f"Offered all the same by {by}: {reason}"


def not_checked(names: Iterable[str]) -> str:
    """Say what was not checked for want of dimensions, so that nobody takes silence for a pass."""
    return f"Not checked, because not given: {'; '.join(names)}."


def approved(by: str, at: str) -> str:
    """Say who approved it, and when; both are in words already."""
    return f"Approved by {by}, {at}."


def sheet_name(house: str, room: str, decision: int, revision: int, check_code: str) -> str:
    """Name a sheet in one line."""
    return f"{house}, {room}. Decision {decision}, revision {revision}. Check code {check_code}"


def place(house: str, room: str) -> str:
    """Say where the work is."""
    return f"{house}, {room}"


def asked(decision: int, revision: int, question: str) -> str:
    """Say which question it answers."""
    return f"Decision {decision}, revision {revision}: {question}"


def to_do(option: str) -> str:
    """Say what was chosen."""
    return f"To do: {option}"


def code(check_code: str) -> str:
    """Say the check code."""
    return f"Check code {check_code}"


def still_approved(check_code: str, where: str) -> str:
    """Say how to check that the sheet still holds: the first line that a crew reads."""
    return f"Still approved? Scan the square code, or type {check_code} at {where}"


def if_it_differs(call: str, dont: str = DONT_DRILL) -> str:
    """Say what to do when something is not as drawn. `call`: whom, with a phone number; empty for nobody. `dont`: what
    not to do."""
    return f"Something differs? {dont} Call {call}." if call else f"Something differs? {dont}"


def wider(bit: str, by: str) -> str:
    """Name a bit that is a little wider than its hole. `by`: how much; empty where it is its size."""
    return f"{bit} ({by} wider)" if by else bit


def bit_for(hole: str, bits: Sequence[str]) -> str:
    """Say which bits are sold for a hole. `bits`: each by its size; none where no usual one fits."""
    return f"for {hole}: {listed(bits, 'or')}" if bits else f"for {hole}: no usual one, ask the shop first"


def bits_sold(each: Sequence[str], source: str) -> str:
    """Say of all holes which bits are sold for them, and who says so."""
    return f"Bits as sold ({source}): {'; '.join(each)}."


def unbroken(cell: str) -> str:
    """Put what stands in brackets on a line of its own: a number parted from its unit is misread."""
    return cell.replace(" (", "\n(")


def page_of(number: int, total: int) -> str:
    """Say at the foot which page it is."""
    return f"page {number} of {total}"


def limits_failed(sentence: str, source: str) -> str:
    """Say a check that fails, and whose limit it is. `sentence`: of the check."""
    return f"{first_upper(sentence)} (limit: {_WHOSE.get(source, source)})."


def limits_passed(checks: Iterable[str], source: str) -> str:
    """Say the checks that pass by the limits of one source. `checks`: each in numbers."""
    return f"Passes, by the limits of {_WHOSE.get(source, source)}: {'; '.join(checks)}."


def more_pass(count: int) -> str:
    """Say how many checks pass that the sheet does not tell, so that nobody takes silence for a check left out."""
    return f"And {count} more {plural(count, 'passes: it stands', 'pass: they stand')} on the page."


def fronts(letters: Sequence[str]) -> str:
    """Name the fronts that one template is for: `front A`, `fronts A, B and D`; empty for work in one piece."""
    return f"{plural(len(letters), 'front')} {listed(letters)}" if letters else ""


def too_many(most: int) -> str:
    """Say that a template would take more than `most` pages."""
    return f"Not full size, and no full-size template: it would take more than {most} sheets. Measure each hole."


def none_for(parts: Sequence[str]) -> str:
    """Say that some of the fronts get no template, after FOLLOWS."""
    return f"There is none for {listed(parts)}: measure each hole."


def full_size(part: str, option: str) -> str:
    """Head a page of a template. `part`: the fronts that it is for; empty for work in one piece."""
    return f"{f'Full size, {part}.' if part else 'Full size.'} {to_do(option)}"


def which_page(row: int, rows: int, column: int, columns: int) -> str:
    """Say which page of a template it is, counted from 1, and how pages join."""
    return (f"Row {row} of {rows}, column {column} of {columns}. Cut on the gray cut line, and lay the marks of the "
            "same name on each other.")


def lay_on(edges: Sequence[str]) -> str:
    """Say on which lines of the piece a template is laid."""
    return f"Lay each line on the real one: {'; '.join(edges)}."


def marked_first(line: str) -> str:
    """Name a line that must be marked before a template can be laid on it."""
    return f"{line} (mark it first)"


def any_of(edges: Iterable[str]) -> str:
    """Name edges of which each will do."""
    return " or the ".join(edges)


def goes_on(name: str) -> str:
    """Name what a page of a template shows only in part."""
    return f"{name}: goes on past this page"


def cut_line(name: str) -> str:
    """Name the line where two pages meet."""
    return f"cut line {name}"


def no_edge(name: str) -> str:
    """Write on a cut line what it is not."""
    return f"{cut_line(name)}, not an edge"


def front_edges(of: str) -> tuple[str, str, str, str, str]:
    """Name the top, bottom, left and right edge of a front, and its middle. `of`: such as `front A`."""
    return f"top edge of {of}", f"bottom edge of {of}", f"left side of {of}", f"right side of {of}", f"middle of {of}"


LINES = {
    "wall": "wall", "edge": "edge of the top", "cut-out": "edge of the cut-out",
    "cabinet": "side of the cabinet, below", "underneath": "below the top", "center line": "center line",
    "datum": "line to measure from", "front": "edge of a front", "pull": "the pull",
    "clearance": "line that is no edge",
}  # fmt: skip
"""Lines by their layer, for drawings that were kept before their lines had names of their own."""


def drill(note: str) -> str:
    """Say of a hole on a template that it is drilled, unless its name says so."""
    return note if "drill" in note else f"{note}: drill"
