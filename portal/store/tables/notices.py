"""What people must be told, until they are told; who wants no mail, and what came back."""

from peewee import BigIntegerField, BooleanField, CharField, ForeignKeyField, IntegerField, JSONField, TextField

from portal.store.tables.base import Table
from portal.store.tables.firm import Staff
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


class MailStop(Table):
    """Somebody wants no mail, from `stopped_at` until `resumed_at`. `resumed_by`: the key of who began it again.

    It stays for good and is no entry of the record, as the notices are none: it shows why someone was told by phone.
    """

    person = ForeignKeyField(Person, backref="mail_stops", on_delete="CASCADE")
    stopped_at = BigIntegerField()
    resumed_at = BigIntegerField(null=True)
    resumed_by = CharField(default="")


class Bounce(Table):
    """A letter that came back. `email`: where it had gone; `status` (RFC 3463) and what the server said; `bad_address`:
    no letter arrives there. `cleared_at`: since when we try again all the same."""

    notice = ForeignKeyField(Notice, backref="bounces", on_delete="CASCADE", unique=True)
    person = ForeignKeyField(Person, backref="bounces", on_delete="CASCADE")
    email = CharField()
    at = BigIntegerField()
    status = CharField(default="")
    said = TextField(default="")
    bad_address = BooleanField(default=False)
    cleared_at = BigIntegerField(null=True)


class StaffNotice(Table):
    """One notice to one of our own people, of what waits for us in a house. `state`: waiting | sent | dropped (no
    longer true) | given_up | unwritten | returned. As with `Notice`, its words are made when it is sent, it stays, and
    no entry tells of it."""

    project = ForeignKeyField(Project, backref="staff_notices", on_delete="CASCADE", index=False)
    staff = ForeignKeyField(Staff, on_delete="CASCADE", index=False)
    kind = CharField()
    about = JSONField()
    made_at = BigIntegerField()
    state = CharField(default="waiting")
    due_at = BigIntegerField()
    tries = IntegerField(default=0)
    trouble = TextField(default="")
    settled_at = BigIntegerField(null=True)

    class Meta:
        indexes = ((("state", "due_at"), False),)


class ReturnedMailbox(Table):
    """How far a mailbox of returned mail was read: the last UID under its UIDVALIDITY (RFC 9051, 2.3.1.1), when, and
    why the last reading failed."""

    mailbox = CharField(primary_key=True)
    validity = BigIntegerField(default=0)
    last_uid = BigIntegerField(default=0)
    read_at = BigIntegerField(default=0)
    trouble = TextField(default="")


class EveningLook(Table):
    """At which change of a project its evening was looked at, when the next one is, and until when a change of what was
    told is told, too (0: there is nothing to tell)."""

    project = ForeignKeyField(Project, primary_key=True, on_delete="CASCADE")
    changed = IntegerField()
    next_at = BigIntegerField()
    until = BigIntegerField()


class ReminderLook(Table):
    """At which change of a project its reminders were looked at, and when the clock may bring the next one."""

    project = ForeignKeyField(Project, primary_key=True, on_delete="CASCADE")
    changed = IntegerField()
    next_at = BigIntegerField()
