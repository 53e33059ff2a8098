"""What people must be told, until they are told."""

from peewee import BigIntegerField, CharField, ForeignKeyField, IntegerField, JSONField, TextField

from portal.store.tables.base import Table
from portal.store.tables.project import Person, Project


class Notice(Table):
    """One notice to one person. Its words are made when it is sent, from what is true then; `about` says of what.

    `mark`: made once for whatever it names. `state`: waiting | sent | told (by phone) | dropped (no longer true) |
    given_up. `due_at`: when it is tried next; a try under way has put it behind itself.

    It stays for good: no record entry says that a letter went out, so these rows are what shows that someone was told
    in time, and a `mark` keeps a reminder from being sent anew. Three hundred thousand take 40 MB.
    """

    project = ForeignKeyField(Project, backref="notices", on_delete="CASCADE", index=False)
    person = ForeignKeyField(Person, backref="notices", on_delete="CASCADE", index=False)
    kind = CharField()
    about = JSONField()
    mark = CharField(null=True, unique=True)
    made_at = BigIntegerField()
    state = CharField(default="waiting")
    due_at = BigIntegerField()
    tries = IntegerField(default=0)
    trouble = TextField(default="")  # why the last try failed
    settled_at = BigIntegerField(null=True)

    class Meta:
        indexes = ((("state", "due_at"), False), (("state", "id"), False), (("person", "kind"), False))
