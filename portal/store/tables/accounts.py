"""How the staff are signed in: sessions, the second factor, and what was done to accounts."""

from peewee import BigIntegerField, CharField, ForeignKeyField

from portal.store.tables.base import Table
from portal.store.tables.firm import Staff


class StaffSession(Table):
    """A signed-in browser. Only the digest of its mark is kept, and in a few words what it is; not from where.

    `proved_at`: when the second factor was given. One that ended stays a while, so that its owner sees it.
    """

    staff = ForeignKeyField(Staff, backref="sessions")
    digest = CharField(unique=True)
    device = CharField(default="")
    began_at = BigIntegerField()
    used_at = BigIntegerField()
    proved_at = BigIntegerField(null=True)
    ended_at = BigIntegerField(null=True)


class SecondFactor(Table):
    """The key of the codes (RFC 6238) is made from the secret and `salt`, the recovery codes from the secret and
    `codes_salt`, as private links are: who has only the database has neither. `last_step`: of the code that was taken
    last; that one and those before it are not taken again."""

    staff = ForeignKeyField(Staff, primary_key=True, backref="second_factor")
    salt = CharField()
    codes_salt = CharField()
    made_at = BigIntegerField()
    last_step = BigIntegerField()


class RecoveryCode(Table):
    """One way in without the phone, once. Only its digest is kept."""

    staff = ForeignKeyField(Staff, backref="recovery_codes")
    digest = CharField(unique=True)
    used_at = BigIntegerField(null=True)


class WayIn(Table):
    """A link by which one of the staff sets a password, once and within a day. `by` null: made on the server."""

    staff = ForeignKeyField(Staff, backref="ways_in")
    digest = CharField(unique=True)
    made_at = BigIntegerField()
    by = ForeignKeyField(Staff, null=True, index=False)
    used_at = BigIntegerField(null=True)
    ended_at = BigIntegerField(null=True)


class AccountEntry(Table):
    """What was done to an account, and by whom (`by` null: on the server, by its operator). Only added to.

    It is of the firm, and of no project's record: a household is shown nothing of it.
    """

    staff = ForeignKeyField(Staff, backref="account_entries")
    by = ForeignKeyField(Staff, null=True, index=False)
    at = BigIntegerField()
    kind = CharField()
    note = CharField(default="")
