"""The one look of all pages: templates, the style sheet inside each page, and the policy that forbids all else."""

import re
from base64 import b64encode
from functools import lru_cache
from hashlib import sha256
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from portal.folders import STATIC
from portal.pages.joined import joined
from portal.store.facts import FirmFact
from portal.words.plurals import counted, plural

STYLE_SHEET = STATIC / "page.css"

environment = Environment(
    loader=PackageLoader("portal.pages"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
    auto_reload=False,
)


@lru_cache(maxsize=1)
def page_style() -> str:
    """The style sheet without comments. It stands in each page, so that one file is the whole page."""
    text = re.sub(r"/\*.*?\*/", "", STYLE_SHEET.read_text(encoding="utf-8"), flags=re.DOTALL)
    return re.sub(r"\s*([{};:,])\s+", r"\1", text).strip()


@lru_cache(maxsize=1)
def content_policy() -> str:
    """Content-Security-Policy of a page: our style and our photos, no script, forms only to ourselves."""
    style = b64encode(sha256(page_style().encode()).digest()).decode()
    images, styles = "img-src 'self' data:", f"style-src 'self' 'sha256-{style}'"
    return f"default-src 'none'; {styles}; {images}; form-action 'self'; base-uri 'none'"


def render(template: str, firm: FirmFact, **values: Any) -> str:
    """A page from a template that extends `base.html`."""
    return joined(environment.get_template(template).render(
        firm=firm, style=page_style(), policy=content_policy(), **values
    ))


def telephone(number: str) -> str:
    """The number as a tel: address takes it (RFC 3966): digits and a plus sign."""
    return "".join(c for c in number if c.isdigit() or c == "+")


environment.filters |= {"telephone": telephone, "counted": counted, "plural": plural}
