"""The center line of a sink: on the window, on the cabinet, or between, with what stays off and what fits."""

from portal.layouts.centerline.dimensions import KIND, from_json
from portal.layouts.centerline.form import CAUTIONS, FORM, suggestions
from portal.layouts.centerline.layout import layouts

__all__ = ["CAUTIONS", "FORM", "KIND", "from_json", "layouts", "suggestions"]
