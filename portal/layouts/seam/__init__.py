"""Seams in a long top: where the pieces may meet, whether they come out of the slab, what each weighs."""

from portal.layouts.seam.dimensions import KIND, from_json
from portal.layouts.seam.form import CAUTIONS, FORM, suggestions
from portal.layouts.seam.layout import layouts

__all__ = ["CAUTIONS", "FORM", "KIND", "from_json", "layouts", "suggestions"]
