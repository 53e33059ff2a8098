"""Consent to deal electronically, asked once of each person, with the paper way named (15 U.S.C. 7001(c)).

The page on which one approves for the first time says what is agreed to; approving there agrees. Whoever goes back to
paper agrees anew with the next approval on a screen.
"""

from portal.acts.actor import Actor, act
from portal.acts.entries import keep
from portal.content import Piece, piece
from portal.store.refusals import NotFound
from portal.store.rows import consent_rows
from portal.store.rows.wording_rows import keep_wording

WORDING = ("guide", "on-a-screen-or-on-paper")


def wording_shown() -> Piece:
    """The wording of the consent that is shown now."""
    found = piece(*WORDING)
    if found is None:
        raise NotFound(what="wording of the consent")
    return found


def agree_to_screen(actor: Actor, project_id: int, now: int) -> None:
    """Within the act of approving: keep the consent if there is none yet."""
    if consent_rows.standing(actor.id):
        return
    shown = wording_shown()
    keep_wording(shown)
    consent_rows.add(actor.id, shown.version, now)
    keep(actor, project_id, "consent_given", {"person": actor.id, "wording": shown.version}, now)


@act("go_back_to_paper")
def go_back_to_paper(actor: Actor, project_id: int, *, now: int) -> None:
    """From now on we ask on paper; what was approved on a screen stands."""
    if consent_rows.withdraw(actor.id, now):
        keep(actor, project_id, "consent_withdrawn", {"person": actor.id}, now)
