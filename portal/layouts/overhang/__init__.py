"""How far a top reaches past its cabinets: what stone can do alone, what brackets add, knees, aisles, corners."""

from portal.layouts.overhang.dimensions import KIND, from_json
from portal.layouts.overhang.form import CAUTIONS, FORM, suggestions
from portal.layouts.overhang.layout import layouts

__all__ = ["CAUTIONS", "FORM", "KIND", "from_json", "layouts", "suggestions"]
