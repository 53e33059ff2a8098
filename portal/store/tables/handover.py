"""Completion: a phase or the whole project is handed over, with a list of what is still open."""

from peewee import BigIntegerField, CharField, DateField, ForeignKeyField, TextField

from portal.store.tables.base import Versioned
from portal.store.tables.firm import Staff
from portal.store.tables.plan import Phase
from portal.store.tables.project import Person, Project, Room


class Handover(Versioned):
    """`phase` None: the whole project."""

    project = ForeignKeyField(Project, backref="handovers", on_delete="RESTRICT")
    phase = ForeignKeyField(Phase, null=True, on_delete="RESTRICT", index=False)
    offered_at = BigIntegerField()
    offered_by = ForeignKeyField(Staff, null=True, index=False)
    note = TextField(default="")
    accepted_at = BigIntegerField(null=True)
    accepted_by = ForeignKeyField(Person, null=True, index=False)
    accepted_name = CharField(default="")


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
