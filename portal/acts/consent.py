"""Consent to deal electronically, asked once of each person, with the paper way named (15 U.S.C. 7001(c)).

The page on which one approves for the first time says what is agreed to; approving there agrees. Whoever goes back to
paper agrees anew with the next approval on a screen.
"""

from portal.acts.actor import Actor, act
from portal.acts.entries import keep
from portal.content import piece
from portal.store import consent_rows
from portal.store.refusals import NotFound

WORDING = ("guide", "on-a-screen-or-on-paper")


def wording_version() -> str:
    """Which wording of the consent is shown now."""
    found = piece(*WORDING)
    if found is None:
        raise NotFound(what="wording of the consent")
    return found.version


def agree_to_screen(actor: Actor, project_id: int, now: int) -> None:
    """Within the act of approving: keep the consent if there is none yet."""
    if consent_rows.standing(actor.id):
        return
    version = wording_version()
    consent_rows.add(actor.id, version, now)
    keep(actor, project_id, "consent_given", {"person": actor.id, "wording": version}, now)


@act
def go_back_to_paper(actor: Actor, project_id: int, *, now: int) -> None:
    """From now on we ask on paper; what was approved on a screen stands."""
    if consent_rows.withdraw(actor.id, now):
        keep(actor, project_id, "consent_withdrawn", {"person": actor.id}, now)
