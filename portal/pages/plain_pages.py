"""Pages without a project: the firm's own, the guidance, and the answers that say what to do."""

from collections.abc import Sequence

from markupsafe import Markup

from portal.content import Piece, guidance_for
from portal.layouts.content_tables.standings import STANDINGS, Standing
from portal.pages.environment import render
from portal.store.facts import FirmFact, ProjectFact
from portal.words.capitals import first_upper


def render_message(
    firm: FirmFact, title: str, sentences: Sequence[str], link: tuple[str, str] | None = None
) -> str:
    """A short page, for instance of an error: what it is, what to do. `link` is (address, words)."""
    return render("message.html", firm, title=title, sentences=sentences, link=link)


def render_wrong_link(firm: FirmFact) -> str:
    """For a link that was never made, was cut off or has been revoked: it does not tell which."""
    return render_message(firm, "This link opens nothing", [
        "It may have been cut off when it was copied, or replaced by a newer one.",
        "Open the newest link that we sent you. If that does not help, call the office: we make you a new one at once.",
    ])


def render_not_taken_back(firm: FirmFact, refusal: str) -> str:
    """For an approval that can't be taken back, or no longer: why. It stands beside the page of the decision."""
    return render_message(firm, "This can’t be taken back here", [refusal], ("./", "Back to the decision"))


def render_home(firm: FirmFact, guides: Sequence[Piece]) -> str:
    """`/`: who the firm is, how to call, and what can be read. `guides` stand under `guide/<name>/`."""
    return render("home.html", firm, guides=guides)


def render_guides(
    firm: FirmFact, guides: Sequence[Piece], care: Sequence[Piece], house: ProjectFact | None = None
) -> str:
    """`guide/`: what can be read. `care` stands below the same address as the guides. With `house` it is the copy
    under a private link, which leads back to the house."""
    return render("guides.html", firm, guides=guides, care=care, house=house, home="../")


def render_checks(firm: FirmFact, house: ProjectFact | None = None) -> str:
    """`guide/checks/`: every check by kind, as content/checks.toml has it: rule or advice, why, source."""
    kinds: dict[str, list[tuple[str, Standing]]] = {}
    for key, standing in STANDINGS.items():
        kinds.setdefault(key.partition(".")[0], []).append((first_upper(standing.name), standing))
    titled = [(kind, _title(kind), checks) for kind, checks in kinds.items()]
    return render("checks.html", firm, kinds=titled, house=house, home="../../")


def _title(kind: str) -> str:
    about = guidance_for(kind)
    return about.title if about else kind


def render_guide(firm: FirmFact, guide: Piece, house: ProjectFact | None = None) -> str:
    """`guide/<name>/`, which leads to the others of its own place."""
    html = guide.html.replace('href="/guide/', 'href="../')  # allow-listed by portal.words.prose
    return render("guide.html", firm, guide=guide, html=Markup(html), house=house, home="../../")
