"""That the household was told of something that stands in the list of the day; and that it was not, after all."""

from portal.acts.actor import Actor, act
from portal.acts.refusals import MatterChanged
from portal.store.reading import desk_lines
from portal.store.rows.household import told_marks


@act("mark_told")
def mark_told(actor: Actor, project_id: int, *, matter: str, state: str, now: int) -> None:
    """It leaves the list until it changes. `state`: the one that was seen; raises MatterChanged where it is another.
    What is settled meanwhile needs no mark."""
    found = next((one for one in desk_lines.computed(project_id, now).matters if one.key == matter), None)
    if found is None:
        return
    if found.state != state:
        raise MatterChanged()
    told_marks.keep(project_id, matter, state, dict(found.facts), actor.id, now)


@act("unmark_told")
def unmark_told(actor: Actor, project_id: int, *, matter: str) -> None:
    """It was marked by mistake: it stands in the list again."""
    told_marks.drop(project_id, matter)
