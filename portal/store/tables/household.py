"""What the household tells the firm: messages at any time, and whether a visit suits."""

from peewee import BigIntegerField, BooleanField, CharField, ForeignKeyField, TextField

from portal.store.tables.base import Table
from portal.store.tables.firm import Staff
from portal.store.tables.plan import Visit
from portal.store.tables.project import Person, Project, Room


class Message(Table):
    """`room` None: about the whole house. The firm answers it once."""

    project = ForeignKeyField(Project, backref="messages", on_delete="RESTRICT")
    person = ForeignKeyField(Person, on_delete="RESTRICT", index=False)
    room = ForeignKeyField(Room, null=True, on_delete="RESTRICT", index=False)
    text = TextField()
    photo = CharField(default="")
    photo_sha256 = CharField(default="")  # of the large size
    told_at = BigIntegerField()
    answer = TextField(null=True)
    answered_by = ForeignKeyField(Staff, null=True, index=False)
    answered_at = BigIntegerField(null=True)


class VisitAnswer(Table):
    """Whether a visit suits one person. It is about the visit at these times: once it is moved, this counts no more; of
    several answers of one person the last one counts."""

    visit = ForeignKeyField(Visit, backref="answers", on_delete="CASCADE")
    person = ForeignKeyField(Person, on_delete="RESTRICT", index=False)
    suits = BooleanField()
    why = TextField(default="")
    at = BigIntegerField()
    starts_at = BigIntegerField()
    ends_at = BigIntegerField()
