"""Who reads prices besides the owners: an owner says so of a designer, or of somebody who only looks on, and can take
it back. From then on that person's link opens the other one of the two published pages."""

from portal.acts.actor import Actor, act
from portal.acts.entries import keep
from portal.acts.refusals import NotYours
from portal.store.facts import is_owner
from portal.store.refusals import FieldRefused
from portal.store.rows import person_rows
from portal.store.rows.editable import in_project
from portal.store.tables import Person


@act("show_prices")
def show_prices(actor: Actor, project_id: int, person_id: int, *, now: int) -> None:
    """Let this person read prices. Raises NotYours for who is no owner, FieldRefused where the other one is."""
    _let(actor, project_id, person_id, True, now)


@act("hide_prices")
def hide_prices(actor: Actor, project_id: int, person_id: int, *, now: int) -> None:
    """Leave prices out again for this person. What they have read, they know. Raises as `show_prices`."""
    _let(actor, project_id, person_id, False, now)


def _let(actor: Actor, project_id: int, person_id: int, may: bool, now: int) -> None:
    if not actor.may_approve:
        raise NotYours(who="an owner")
    person = in_project(Person, project_id, person_id)
    if is_owner(person.role, person.may_approve):
        raise FieldRefused("person", f"{person.name} is an owner, and owners read prices.")
    if person_rows.let_read_prices(person_id, may):
        kind = "prices_shown" if may else "prices_hidden"
        keep(actor, project_id, kind, {"person": person_id, "name": person.name}, now)
