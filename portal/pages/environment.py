"""The one look of all pages: templates, the style sheets inside each page, and the policy that forbids all else."""

import re
from base64 import b64encode
from collections.abc import Iterable
from functools import lru_cache
from hashlib import sha256
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from portal.drawings.symbols.sheet import use, with_shapes
from portal.folders import STATIC
from portal.pages.joined import joined
from portal.store.facts import FirmFact
from portal.words.names import beside_plate, plate, plate_words, street
from portal.words.plurals import counted, plural

LOOKS = STATIC / "look"
SCREENS = {
    "page.html": ("base", "top", "cards", "span", "house", "tape", "rooms", "tell"),
    "decision.html": ("base", "block", "picture", "decision", "finish"),
    "review.html": ("base", "block", "picture", "decision", "finish"),
    "receipt.html": ("base", "plain", "block", "cards", "receipt", "finish"),
    "record.html": ("base", "plain", "record"),
    "own_copy/contents.html": ("base", "plain", "record"),
    "handover.html": ("base", "plain", "block", "receipt", "handover"),
    "accept_handover.html": ("base", "plain", "block", "handover"),
    "check_receipt.html": ("base", "plain", "block", "receipt"),
    "plan_sheet.html": ("base", "plain", "plan"),
    "today.html": ("base", "desk", "week", "span", "today"),
    "closed_houses.html": ("base", "desk", "today"),
    "desk.html": ("base", "plain", "forms", "desk"),
    "away.html": ("away",),
    "week.html": ("base", "desk", "week"),
    "project.html": ("base", "desk", "span", "tape", "onsite", "caller"),
    "crew_day.html": ("base", "crew_day"),
    "crew_day_desk.html": ("base", "desk", "crew_day"),
    "layouts.html": ("base", "plain", "forms", "desk", "blanks"),
    "call.html": ("base", "plain", "forms", "desk", "caller"),
}
"""The style sheets of a screen, by its template; those of any other are PLAIN, at the desk those of `desk.html`. No
screen carries another's."""
PLAIN = ("base", "plain", "finish")
OWN_SCRIPTS = "script-src 'self'; connect-src 'self'; worker-src 'self'"
"""Files of this host alone, and what they ask of it (W3C CSP3, 6.1)."""

environment = Environment(
    loader=PackageLoader("portal.pages"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
    auto_reload=False,
)


@lru_cache(maxsize=32)
def style_of(screen: str) -> str:
    """Its style sheets in order, without comments and spaces. They stand in the page, so that one file is the whole."""
    return "".join(_packed((LOOKS / f"{name}.css").read_text(encoding="utf-8")) for name in SCREENS.get(screen, PLAIN))


def _packed(text: str) -> str:
    text = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
    return re.sub(r";?\s*([{};,])\s*", r"\1", re.sub(r":\s+", ":", text)).strip()


@lru_cache(maxsize=32)
def policy_of(screen: str) -> str:
    """Content-Security-Policy of a page: its style and our photos, no script, forms only to ourselves."""
    return _policy([screen])


@lru_cache(maxsize=32)
def desk_policy_of(screen: str) -> str:
    """Content-Security-Policy of a page for staff who are signed in: our script files, and no script in the page."""
    return f"{_policy([screen])}; {OWN_SCRIPTS}"


@lru_cache(maxsize=1)
def content_policy() -> str:
    """Of any page that the service answers with: the element in it allows its own style alone."""
    return _policy([*SCREENS, ""])


@lru_cache(maxsize=32)
def script(name: str) -> Markup:
    """The element for a script of static/desk. Its address changes with it, so that no page of today gets one of
    yesterday from a cache."""
    made = sha256((STATIC / "desk" / name).read_bytes()).hexdigest()[:12]
    return Markup('<script src="/static/desk/{}?{}" defer></script>').format(name, made)


def _policy(screens: Iterable[str]) -> str:
    styles = _sums(map(style_of, screens))
    return f"default-src 'none'; style-src 'self' {styles}; img-src 'self' data:; form-action 'self'; base-uri 'none'"


def _sums(texts: Iterable[str]) -> str:
    """What stands inside a page, named by its hash (W3C CSP3, 2.3.1)."""
    sums = [b64encode(sha256(text.encode()).digest()).decode() for text in texts]
    return " ".join(f"'sha256-{one}'" for one in dict.fromkeys(sums))


def render(template: str, firm: FirmFact, **values: Any) -> str:
    """A page from a template that extends `base.html`. It holds the symbols that it uses, whoever placed them."""
    return joined(with_shapes(environment.get_template(template).render(
        firm=firm, style=style_of(template), policy=policy_of(template), **values
    )))


def render_with_script(template: str, firm: FirmFact, script: str, **values: Any) -> str:
    """A page that is a file of its own, wherever it lies: its script stands inside, its policy (`self_policy_of`)
    allows that one and nothing else."""
    return joined(with_shapes(environment.get_template(template).render(
        firm=firm, style=style_of(template), policy=self_policy_of(template, script), script=Markup(script), **values
    )))


def self_policy_of(screen: str, script: str) -> str:
    """Content-Security-Policy of a page with a script of ours: this style, this script, no request to anybody."""
    return (
        f"default-src 'none'; style-src {_sums([style_of(screen)])}; script-src {_sums([script])}; img-src data:; "
        "form-action 'none'; base-uri 'none'"
    )


def symbol(name: str, look: str = "s") -> Markup:
    """The place of a symbol of portal.drawings.symbols; its words stand beside it."""
    return Markup(use(name, look))


def telephone(number: str) -> str:
    """The number as a tel: address takes it (RFC 3966): digits and a plus sign."""
    return "".join(c for c in number if c.isdigit() or c == "+")


environment.globals |= {"symbol": symbol, "script": script}
environment.filters |= {
    "telephone": telephone, "counted": counted, "plural": plural, "plate": plate, "plate_words": plate_words,
    "beside_plate": beside_plate, "street": street,
}
