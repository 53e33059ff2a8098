"""Under a private link: what dealing on a screen means, and the way back to paper."""

from markupsafe import Markup

from portal.content import Piece
from portal.pages.environment import render
from portal.store.facts import Snapshot


def render_paper(snapshot: Snapshot, wording: Piece | None, *, agreed: bool) -> str:
    html = Markup(wording.html) if wording else ""  # allow-listed by portal.words.prose
    title = wording.title if wording else "On a screen or on paper"
    return render("paper.html", snapshot.firm, project=snapshot.project, title=title, html=html, agreed=agreed)
