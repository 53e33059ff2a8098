"""The plan: phases and what they follow, visits, deliveries."""

from peewee import BigIntegerField, CharField, DateField, ForeignKeyField, IntegerField, TextField

from portal.store.tables.base import Table, Versioned, json_list
from portal.store.tables.firm import Supplier
from portal.store.tables.project import Project, Room


class Phase(Versioned):
    """Work in minutes of crew time: low, likely, high (all the same when only one figure is given)."""

    project = ForeignKeyField(Project, backref="phases", on_delete="CASCADE")
    room = ForeignKeyField(Room, null=True, backref="phases", on_delete="RESTRICT")
    name = CharField()
    crew = CharField(default="")
    position = IntegerField(default=0)
    work_low = IntegerField()
    work_likely = IntegerField()
    work_high = IntegerField()
    not_before = DateField(null=True)
    state = CharField(default="waiting")
    started_at = BigIntegerField(null=True)
    finished_at = BigIntegerField(null=True)
    remaining = IntegerField(null=True)  # minutes
    note = TextField(default="")
    takes = json_list()
    inspection_at = BigIntegerField(null=True)  # when the inspector is expected
    stopped_at = BigIntegerField(null=True)
    resumes_at = BigIntegerField(null=True)
    stopped_reason = TextField(default="")  # while it rests
    rested = IntegerField(default=0)  # working minutes for which it was stopped, or waited for an inspection, so far
    starter = CharField(default="")  # `bath.tile`: the phase of the plan to start from that it was made from

    class Meta:
        indexes = ((("project", "name"), True),)


class PhaseLink(Table):
    """`phase` starts when `after` has finished and `wait` minutes have passed by the clock."""

    phase = ForeignKeyField(Phase, backref="follows", on_delete="CASCADE")
    after = ForeignKeyField(Phase, backref="followed_by", on_delete="CASCADE")
    wait = IntegerField(default=0)

    class Meta:
        indexes = ((("phase", "after"), True),)


class Visit(Versioned):
    project = ForeignKeyField(Project, backref="visits", on_delete="CASCADE")
    phase = ForeignKeyField(Phase, null=True, backref="visits", on_delete="SET NULL")
    crew = CharField()
    purpose = CharField()
    starts_at = BigIntegerField(index=True)
    ends_at = BigIntegerField()
    cancelled_at = BigIntegerField(null=True)
    cancelled_because = CharField(default="")
    reason = TextField(default="")  # why it was moved last; "": never, or before 0.5.0
    changed_at = BigIntegerField(default=0)  # 0: before this was kept


class Delivery(Versioned):
    """An ordered item. The phases that wait for it are in DeliveryHold."""

    project = ForeignKeyField(Project, backref="deliveries", on_delete="CASCADE")
    item = CharField()
    expected_low = DateField()
    expected_on = DateField()
    expected_high = DateField()
    arrived_at = BigIntegerField(null=True)
    note = TextField(default="")
    reason = TextField(default="")  # why its dates were changed last; "": never, or before 0.5.0
    supplier = ForeignKeyField(Supplier, null=True, index=False)
    order_number = CharField(default="")  # theirs
    ordered_on = DateField(null=True)


class DeliveryHold(Table):
    delivery = ForeignKeyField(Delivery, backref="holds", on_delete="CASCADE")
    phase = ForeignKeyField(Phase, backref="waits_for", on_delete="CASCADE")

    class Meta:
        indexes = ((("delivery", "phase"), True),)
