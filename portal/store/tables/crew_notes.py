"""What only the crew should know. No page, copy, letter, log or entry of the record holds it, and it is erased for
good: it is in no snapshot, its table is not told, and what is deleted is overwritten (`store.engine.erasing`)."""

from peewee import BigIntegerField, DateField, ForeignKeyField, TextField

from portal.store.tables.base import Versioned
from portal.store.tables.project import Person, Project


class CrewNote(Versioned):
    """All that one person of the household has written for the crew; no row: nothing."""

    project = ForeignKeyField(Project, backref="crew_notes", on_delete="CASCADE")
    person = ForeignKeyField(Person, on_delete="CASCADE", unique=True)
    away_from = DateField(null=True)
    away_to = DateField(null=True)
    keys = TextField(default="")
    pets = TextField(default="")
    parking = TextField(default="")
    alarm = TextField(default="")
    changed_at = BigIntegerField()
