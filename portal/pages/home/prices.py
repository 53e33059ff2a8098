"""The page under an owner's link on which they say who else reads prices."""

from portal.pages.environment import render
from portal.pages.without_sums import others_than_owners
from portal.store.facts import Snapshot


def render_prices(snapshot: Snapshot, reader: int, once: str, refusal: str = "") -> str:
    """Render whoever is no owner, with whether they read prices, and the button that changes it."""
    owners = [one.name for one in snapshot.owners if one.id != reader]
    return render("prices.html", snapshot.firm, project=snapshot.project, owners=owners,
                  others=others_than_owners(snapshot), once=once, refusal=refusal)
