"""The picture of each kind's form. A new kind adds one module with its picture, and one line here."""

from collections.abc import Mapping

from portal.drawings.forms.centerline_form import CENTERLINE
from portal.drawings.forms.deck_form import DECK
from portal.drawings.forms.form_drawing import FormDrawing, Known
from portal.drawings.forms.overhang_form import OVERHANG
from portal.drawings.forms.pulls_form import PULLS
from portal.drawings.forms.seam_form import SEAM
from portal.drawings.forms.vanity_form import VANITY
from portal.layouts.form import LENGTH, Form
from portal.layouts.length import DimensionError, Length

FORM_DRAWINGS: dict[str, FormDrawing] = {
    "deck": DECK, "centerline": CENTERLINE, "pulls": PULLS, "overhang": OVERHANG, "seam": SEAM, "vanity": VANITY,
}  # fmt: skip


def known_of(form: Form, texts: Mapping[str, str]) -> Known:
    """Give what of these texts, by their dotted paths, are lengths that can be read, in mm."""
    lengths = {(part.path, blank.name) for part in form for blank in part.blanks if blank.holds == LENGTH}
    found: dict[str, float] = {}
    for path, text in texts.items():
        above, _, name = path.rpartition(".")
        if (above, name) in lengths or (above.rpartition(".")[0], name) in lengths:
            try:
                found[path] = float(Length.parse(text, path).mm)
            except DimensionError:
                continue
    return found
