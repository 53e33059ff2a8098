"""The firm, and the people who work there."""

from peewee import BigIntegerField, BooleanField, CharField, ForeignKeyField, TextField

from portal.store.tables.base import Table, Versioned, json_list


class Firm(Versioned):
    name = CharField()
    phone = CharField()
    email = CharField(default="")
    address = CharField(default="")
    office_hours = CharField()
    registrations = json_list()  # ["Minnesota residential remodeler BC-000000", ...]


class Staff(Versioned):
    name = CharField()
    email = CharField(unique=True)
    role = CharField()
    password_hash = CharField()
    active = BooleanField(default=True)


class Token(Table):
    """A bearer token of the API. Only its digest is kept."""

    staff = ForeignKeyField(Staff, backref="tokens")
    digest = CharField(unique=True)
    label = TextField(default="")
    made_at = BigIntegerField()
    revoked_at = BigIntegerField(null=True)
