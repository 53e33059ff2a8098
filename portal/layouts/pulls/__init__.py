"""Pulls on drawers and doors: every rule that the dimensions allow, over the whole bank, checked and ranked."""

from portal.layouts.pulls.dimensions import KIND
from portal.layouts.pulls.form import CAUTIONS, FORM, suggestions
from portal.layouts.pulls.layout import layouts
from portal.layouts.pulls.read import from_json

__all__ = ["CAUTIONS", "FORM", "KIND", "from_json", "layouts", "suggestions"]
