"""The page under a private link where one takes one's own copy."""

from portal.pages.environment import render
from portal.store.facts import Snapshot


def render_copy(snapshot: Snapshot) -> str:
    """Render what is in a copy, with the button that takes it."""
    photos = sum(len(update.photos) for update in snapshot.updates)
    return render("own_copy/offer.html", snapshot.firm, project=snapshot.project, photos=photos)
