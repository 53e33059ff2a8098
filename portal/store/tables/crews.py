"""The firm's crews. Plans and visits name a crew by a text, which is what is shown and what the record tells;
which crew a text stands for is kept once, here, so that matching old texts writes no house's rows."""

from peewee import BigIntegerField, BooleanField, CharField, DateField, ForeignKeyField, IntegerField, JSONField

from portal.store.tables.base import Table, Versioned, json_list
from portal.store.tables.project import Project


class Crew(Versioned):
    """`week`: its hours by weekday, as in a house's calendar; null: those of the house. `days_off`: dates. One that
    is not `active` is offered no more."""

    name = CharField()
    trade = CharField(default="")
    size = IntegerField(null=True)
    phone = CharField(default="")
    email = CharField(default="")
    week = JSONField(null=True)
    days_off = json_list()
    active = BooleanField(default=True)


class CrewName(Table):
    """A text that stands for this crew: its own name, and each that plans had before. `folded`:
    portal.planning.crews.names.crew_key of it."""

    crew = ForeignKeyField(Crew, backref="names", on_delete="CASCADE")
    folded = CharField(unique=True)
    text = CharField()


class CrewLink(Table):
    """A private link of a crew: its sheet of one `day`, which ends with that day (`ends_at`), or, where `day` is null,
    its calendar, until it is revoked. The link itself is made from the secret and `salt`; only its digest is kept."""

    crew = ForeignKeyField(Crew, backref="links", on_delete="CASCADE")
    day = DateField(null=True)
    salt = CharField()
    digest = CharField(unique=True)
    made_at = BigIntegerField()
    ends_at = BigIntegerField(null=True)
    revoked_at = BigIntegerField(null=True)


class PlannedWork(Table):
    """When a house's plan has crews at work, by day, and how its visits stand; it follows from the rest
    (`store.reading.crews.work`): true of the project at its change number `changed`, on its local `day`."""

    project = ForeignKeyField(Project, primary_key=True, on_delete="CASCADE")
    changed = IntegerField()
    day = DateField()
    work = json_list()
    visits = json_list()
