"""Completion: a phase or the whole project is handed over, with a list of what is still open."""

from peewee import BigIntegerField, CharField, DateField, ForeignKeyField, TextField

from portal.store.tables.base import Versioned
from portal.store.tables.firm import Staff
from portal.store.tables.plan import Phase
from portal.store.tables.project import Person, Project, Room


class Handover(Versioned):
    """`phase` None: the whole project. `items_until`: the last day on which the household can add to the list; None:
    until it is accepted. `taken_back_at`: it was offered by mistake; the work is as if it had not been."""

    project = ForeignKeyField(Project, backref="handovers", on_delete="RESTRICT")
    phase = ForeignKeyField(Phase, null=True, on_delete="RESTRICT", index=False)
    offered_at = BigIntegerField()
    offered_by = ForeignKeyField(Staff, null=True, index=False)
    note = TextField(default="")
    accepted_at = BigIntegerField(null=True)
    accepted_by = ForeignKeyField(Person, null=True, index=False)
    accepted_name = CharField(default="")
    items_until = DateField(null=True)
    taken_back_at = BigIntegerField(null=True)
    taken_back_reason = TextField(default="")


class OpenItem(Versioned):
    handover = ForeignKeyField(Handover, backref="items", on_delete="RESTRICT")
    room = ForeignKeyField(Room, null=True, on_delete="RESTRICT", index=False)
    item = TextField()
    photo = CharField(default="")
    photo_sha256 = CharField(default="")  # of the large size; empty where it was listed before this was kept
    who = CharField(default="")
    by_on = DateField(null=True)
    added_by = CharField()
    added_at = BigIntegerField()
    done_at = BigIntegerField(null=True)
