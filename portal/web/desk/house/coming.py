"""Who and what comes to a house: all its visits and all its deliveries, each with what can be done about it."""

from collections.abc import Mapping
from datetime import date

from flask import Response

from portal import clock
from portal.pages.outlook import outlook_of
from portal.store.facts import DeliveryFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import page_of, project_row, versions_of
from portal.store.rows.household import supplier_rows
from portal.store.tables import Delivery, Supplier
from portal.web.desk.blueprint import PROJECT, blueprint
from portal.web.desk.onsite.coming import coming
from portal.web.desk.plan.planned import to_order
from portal.web.desk.showing import show
from portal.words.dates import dated_words, day_words, local, near_words, when_words


@blueprint.get(f"{PROJECT}/visits/")
def visits(project_id: int) -> Response:
    project_row(project_id)
    snapshot, now = read_snapshot(project_id), clock.now()
    outlook, today = outlook_of(snapshot, schedule_of(snapshot, now)), local(now, snapshot.project.timezone).date()
    return show("visits.html", project=snapshot.project, today=day_words(today),
                visits=coming(snapshot, outlook, today, now))


@blueprint.get(f"{PROJECT}/deliveries/")
def deliveries(project_id: int) -> Response:
    project_row(project_id)
    snapshot = read_snapshot(project_id)
    today = local(clock.now(), snapshot.project.timezone).date()
    suppliers, (rows, _) = supplier_rows.by_id(), page_of(Delivery, project_id, 0, len(snapshot.deliveries))
    return show(
        "deliveries.html", ordered={one.id: _ordered_words(one, suppliers, today) for one in rows},
        project=snapshot.project, versions=versions_of(Delivery, project_id),
        deliveries=[(one, _delivery_words(snapshot, one, today)) for one in snapshot.deliveries],
        to_enter=[], to_ask=[], to_order=to_order(snapshot),
    )


def _ordered_words(one: Delivery, suppliers: Mapping[int, Supplier], today: date) -> tuple[str, str]:
    """With whom, under which number, since when; and the phone to ask at."""
    with_whom = suppliers.get(one.supplier_id)
    said = [with_whom.name] if with_whom else []
    said += [f"order {one.order_number}"] if one.order_number else []
    said += [f"ordered {dated_words(one.ordered_on, today)}"] if one.ordered_on else []
    return ", ".join(said), with_whom.phone if with_whom else ""


def _delivery_words(snapshot: Snapshot, one: DeliveryFact, today: date) -> str:
    waiting = [snapshot.phase(phase).name for phase in one.phases]
    for_what = f" For: {', '.join(waiting)}." if waiting else ""
    if one.arrived_at is not None:
        return f"came on {when_words(one.arrived_at, snapshot.project.timezone)}.{for_what}"
    late = " It is late." if one.expected_on < today else ""
    spread = "" if one.expected_low == one.expected_high else (
        f" ({dated_words(one.expected_low, today)} to {dated_words(one.expected_high, today)})")
    return f"expected {near_words(one.expected_on, today)}{spread}.{late}{for_what}"
