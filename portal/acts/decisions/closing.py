"""When a question is closed: once all work that it holds has begun. It follows from the phases, so that a start that is
taken back opens it again; a question that holds no work stays open."""

from portal.acts.refusals import WorkHasBegun
from portal.store.rows import plan_rows
from portal.words.lists import quoted


def refuse_closed(decision_id: int, number: int) -> None:
    """Raise WorkHasBegun where nothing is answered, asked again or proposed any more."""
    begun = plan_rows.begun_with(decision_id)
    if begun:
        raise WorkHasBegun(number=number, phases=quoted([phase.name for phase in begun]))
