"""A project: the house, its rooms, the people of the household and their links."""

from peewee import (
    BigIntegerField,
    BooleanField,
    CharField,
    DateField,
    ForeignKeyField,
    IntegerField,
    JSONField,
    TextField,
)

from portal.store.tables.base import Table, Versioned, json_list
from portal.store.tables.firm import Staff


class Project(Versioned):
    name = CharField()
    address = CharField()
    timezone = CharField()
    calendar = JSONField()
    as_firm = BooleanField(default=False)  # zone and calendar are the firm's, and change with them
    starts_on = DateField()
    promised_on = DateField(null=True)
    signed_on = DateField(null=True)
    contract_cents = BigIntegerField(null=True)
    phone = CharField(default="")
    office_hours = CharField(default="")
    closed_at = BigIntegerField(null=True)
    closed_because = TextField(default="")
    removed_at = BigIntegerField(null=True)
    responsible = ForeignKeyField(Staff, null=True, index=False)  # the manager who runs it; None: nobody is named
    changed = IntegerField(default=0)  # counts commits; the published page says which one it shows
    changed_at = BigIntegerField(default=0)  # 0: before this was kept


class Room(Versioned):
    project = ForeignKeyField(Project, backref="rooms", on_delete="CASCADE")
    name = CharField()
    position = IntegerField(default=0)
    services = json_list()

    class Meta:
        indexes = ((("project", "name"), True),)


class Person(Versioned):
    project = ForeignKeyField(Project, backref="people", on_delete="CASCADE")
    name = CharField()
    role = CharField(default="homeowner")
    phone = CharField(default="")
    email = CharField(default="")
    may_approve = BooleanField(default=True)
    reads_prices = BooleanField(default=False)


class Link(Table):
    """A private link. The link itself is made from the secret and `salt`; only its digest is kept."""

    person = ForeignKeyField(Person, backref="links", on_delete="CASCADE")
    salt = CharField()
    digest = CharField(unique=True)
    made_at = BigIntegerField()
    revoked_at = BigIntegerField(null=True)
