"""Heights over a vanity: mirror, lamps and sash for the people who stand there, by the law of reflection."""

from portal.layouts.vanity.dimensions import KIND
from portal.layouts.vanity.form import CAUTIONS, FORM, suggestions
from portal.layouts.vanity.layout import layouts
from portal.layouts.vanity.read import from_json

__all__ = ["CAUTIONS", "FORM", "KIND", "from_json", "layouts", "suggestions"]
