"""What is kept beside the plan itself: forecasts, what the desk's list says, and what a plan to start from still wants
asked or ordered."""

from peewee import (
    BigIntegerField,
    CharField,
    DateField,
    DoubleField,
    ForeignKeyField,
    IntegerField,
    JSONField,
    TextField,
)

from portal.store.tables.base import Table, json_list
from portal.store.tables.decisions import Decision
from portal.store.tables.firm import Staff, Supplier
from portal.store.tables.plan import Delivery
from portal.store.tables.project import Project, Room


class Forecast(Table):
    """One row for each forecast that differs from the one before. `state`: the newest state of the plan that it holds
    for. `sure`: None in those of before 0.5.0.

    `phases`: [id, likely by, safely by, share of futures in which it drives the finish]; `decisions`, `deliveries`:
    [id, share]. All of what was not done, answered or delivered then.
    """

    project = ForeignKeyField(Project, backref="forecasts", on_delete="CASCADE")
    state = CharField()
    made_at = BigIntegerField()
    futures = IntegerField()
    likely_by = BigIntegerField()
    safely_by = BigIntegerField()
    sure = DoubleField(null=True)
    promised_on = DateField(null=True)
    chance = DoubleField(null=True)
    phases = json_list()
    decisions = json_list()
    deliveries = json_list()


class DeskLine(Table):
    """What the desk's list says of a project; it follows from the rest (`store.reading.desk_lines`). `waiting`:
    [number, question, whether we owe an answer, needed by] of each open decision; `matters`: all that is to be done
    there (`store.reading.today.matters`)."""

    project = ForeignKeyField(Project, primary_key=True, on_delete="CASCADE")
    changed = IntegerField()
    made_at = BigIntegerField()
    good_until = BigIntegerField()
    nearest = DateField(null=True)
    waiting = json_list()
    finish = DateField(null=True)
    matters = json_list()


class ToldMark(Table):
    """Who of the staff told the household of a matter, and of which state of it (a digest): it stands on the list again
    only once that has changed. `said`: its facts of then."""

    project = ForeignKeyField(Project, backref="told_marks", on_delete="CASCADE", index=False)
    matter = CharField()
    state = CharField()
    said = JSONField()
    staff = ForeignKeyField(Staff, on_delete="RESTRICT")
    at = BigIntegerField()

    class Meta:
        indexes = ((("project", "matter"), True),)


class ShownPage(Table):
    """Which change the published page shows (-1: there is none yet) and which date (empty: not known), and since when
    and why it can't be published (`store.reading.published`)."""

    project = ForeignKeyField(Project, primary_key=True, on_delete="CASCADE")
    changed = IntegerField()
    failing_since = BigIntegerField(null=True)
    failing = CharField(default="")
    day = CharField(default="")


class FinishMoves(Table):
    """How far the record was replayed for what moved the finish (`store.reading.finish.moves`): after which entry and
    at what time, the rows told by then, the day of the finish, and each move: [day, before, after, kind of cause, what
    happened, about what, reason]. It follows from the record."""

    project = ForeignKeyField(Project, primary_key=True, on_delete="CASCADE")
    entry = IntegerField()
    at = BigIntegerField()
    told = JSONField()
    since = DateField(null=True)
    first = DateField(null=True)
    finish = DateField(null=True)
    moves = json_list()


class PlannedQuestion(Table):
    """A question that the plan wants asked in time. `holds`: phase ids, which don't start before it is asked or
    dropped; once it is asked, `decision` holds them."""

    project = ForeignKeyField(Project, backref="planned_questions", on_delete="CASCADE")
    room = ForeignKeyField(Room, null=True, on_delete="SET NULL", index=False)
    kind = CharField(default="general")
    question = TextField()
    options = JSONField()
    lead_days = IntegerField(default=1)
    holds = json_list()
    decision = ForeignKeyField(Decision, null=True, on_delete="SET NULL", index=False)
    dropped_at = BigIntegerField(null=True)


class PlannedOrder(Table):
    """An item that the plan wants ordered in time. `phases`: ids of those that wait for it."""

    project = ForeignKeyField(Project, backref="planned_orders", on_delete="CASCADE")
    item = CharField()
    phases = json_list()
    delivery = ForeignKeyField(Delivery, null=True, on_delete="SET NULL", index=False)
    dropped_at = BigIntegerField(null=True)
    supplier = ForeignKeyField(Supplier, null=True, index=False)  # with whom it is to be ordered
