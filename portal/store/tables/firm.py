"""The firm, and the people who work there."""

from peewee import BigIntegerField, BooleanField, CharField, ForeignKeyField, IntegerField, JSONField, TextField

from portal.store.tables.base import Table, Versioned, json_list


class Firm(Versioned):
    name = CharField()
    phone = CharField()
    email = CharField(default="")
    address = CharField(default="")
    office_hours = CharField()
    registrations = json_list()  # ["Minnesota residential remodeler BC-000000", ...]
    demands_second_factor = BooleanField(default=False)
    mark = CharField(default="")  # a few letters that stand beside the name
    timezone = CharField(default="")
    calendar = JSONField(null=True)  # of each house that is `as_firm`; None: none is written down


class FirstDay(Table):
    """When something of the first day was done, and what is wrong with it still."""

    step = CharField(primary_key=True)
    at = BigIntegerField()
    trouble = TextField(default="")


class Supplier(Versioned):
    """Who delivers. `lead_days`: working days from the order to the door, as they say. One that is dropped is chosen no
    more, and stays with the orders that name it."""

    name = CharField(unique=True)
    phone = CharField(default="")
    email = CharField(default="")
    lead_days = IntegerField(null=True)
    dropped_at = BigIntegerField(null=True)


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


class FirmKeys(Table):
    """The keys that belong to this database, in one row: the public key of its heads, and a digest of its secret."""

    record_key = CharField()
    secret_digest = CharField()
