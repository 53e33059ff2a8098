"""What was told: updates with photos, call notes; the record; and answers kept for repeated requests."""

from peewee import BigIntegerField, BlobField, CharField, CompositeKey, ForeignKeyField, IntegerField, TextField

from portal.store.tables.base import Table, Versioned
from portal.store.tables.firm import Staff
from portal.store.tables.project import Project


class Update(Versioned):
    project = ForeignKeyField(Project, backref="updates", on_delete="CASCADE")
    staff = ForeignKeyField(Staff, null=True)
    at = BigIntegerField(index=True)
    text = TextField()
    html = TextField()  # converted once, when written


class Photo(Table):
    of = ForeignKeyField(Update, backref="photos", on_delete="CASCADE", column_name="update_id")
    name = CharField()  # of the file, without size and ending: a digest of its bytes
    caption = CharField(default="")
    width = IntegerField()
    height = IntegerField()


class Call(Table):
    """A call note: what a caller asked and was told. A spoken answer never counts as an approval."""

    project = ForeignKeyField(Project, backref="calls", on_delete="CASCADE")
    staff = ForeignKeyField(Staff, null=True)
    at = BigIntegerField()
    caller = CharField()
    asked = TextField()
    told = TextField(default="")


class RecordEntry(Table):
    """One entry of a project's record: canonical bytes and their hash. Only ever added."""

    project = ForeignKeyField(Project, backref="record", on_delete="RESTRICT")
    sequence = IntegerField()
    at = CharField()
    kind = CharField()
    canonical = BlobField()
    hash = CharField()

    class Meta:
        primary_key = CompositeKey("project", "sequence")


class RecordNode(Table):
    """A complete subtree of the Merkle tree over a project's entries. Only ever added."""

    project = ForeignKeyField(Project, on_delete="RESTRICT", index=False)
    level = IntegerField()
    place = BigIntegerField()
    hash = BlobField()

    class Meta:
        primary_key = CompositeKey("project", "level", "place")


class RecordEdge(Table):
    """The right edge of the tree, and the newest entry's hash and time: all that adding an entry needs. `told_from`:
    the number of the entry that told how all rows of the project stood; 0 while none has."""

    project = ForeignKeyField(Project, primary_key=True, on_delete="RESTRICT")
    size = BigIntegerField()
    peaks = BlobField()
    hash = CharField()
    at = CharField()
    told_from = BigIntegerField(default=0)


class Answered(Table):
    """The answer to a request that may come again: same key, same answer."""

    who = CharField()
    key = CharField()
    request = CharField()
    status = IntegerField()
    headers = TextField()
    body = TextField()
    at = BigIntegerField()

    class Meta:
        primary_key = CompositeKey("who", "key")
