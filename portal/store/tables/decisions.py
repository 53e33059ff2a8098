"""Decisions, their numbered revisions, and what people said to them."""

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

from portal.store.engine.kept_options import OptionsField
from portal.store.tables.base import Table, Versioned
from portal.store.tables.firm import Staff
from portal.store.tables.plan import Phase
from portal.store.tables.project import Person, Project, Room


class Decision(Versioned):
    project = ForeignKeyField(Project, backref="decisions", on_delete="CASCADE")
    number = IntegerField()
    kind = CharField(default="general")
    room = ForeignKeyField(Room, null=True, backref="decisions", on_delete="RESTRICT")
    lead_days = IntegerField(default=1)
    asked_for = DateField(null=True)  # a need-by date for a decision that holds no phase
    approvers = CharField(default="any")  # any | all | a person's id
    revision = IntegerField(default=1)
    state = CharField(default="asked")

    class Meta:
        indexes = ((("project", "number"), True),)


class Revision(Table):
    """Exactly what was shown: `shown` is the canonical JSON, `check_code` its SHA-256."""

    decision = ForeignKeyField(Decision, backref="revisions", on_delete="CASCADE")
    number = IntegerField()
    question = TextField()
    options = OptionsField()
    detail = JSONField(null=True)
    shown = TextField()
    check_code = CharField()
    asked_at = BigIntegerField()
    asked_by = ForeignKeyField(Staff, null=True)
    reason = TextField(default="")

    class Meta:
        indexes = ((("decision", "number"), True),)


class PhaseHold(Table):
    """`phase` may not start until `decision` is approved."""

    phase = ForeignKeyField(Phase, backref="held_by", on_delete="CASCADE")
    decision = ForeignKeyField(Decision, backref="holds", on_delete="CASCADE")

    class Meta:
        indexes = ((("phase", "decision"), True),)


class Approval(Table):
    """One person's acceptance of one option of one revision. Never changed, never removed."""

    decision = ForeignKeyField(Decision, backref="approvals", on_delete="RESTRICT", index=False)
    revision = IntegerField()
    option = CharField()
    person = ForeignKeyField(Person, on_delete="RESTRICT")
    name = CharField()
    at = BigIntegerField()
    entered_by = ForeignKeyField(Staff, null=True, index=False)  # signed on paper, and entered by
    signed_on = DateField(null=True)  # the date on the paper

    class Meta:
        indexes = ((("decision", "revision"), False),)


class Withdrawal(Table):
    """An approval that was taken back before the held work started. The approval itself stays."""

    approval = ForeignKeyField(Approval, primary_key=True, on_delete="RESTRICT")
    person = ForeignKeyField(Person, on_delete="RESTRICT", index=False)
    reason = TextField(default="")
    at = BigIntegerField()
    entered_by = ForeignKeyField(Staff, null=True, index=False)  # of an approval that was entered from paper


class QuestionWithdrawal(Table):
    """A revision of a question that the manager withdrew before it was approved. `lifts_hold`: what it held may start
    without an answer."""

    decision = ForeignKeyField(Decision, on_delete="RESTRICT", index=False)
    revision = IntegerField()
    reason = TextField()
    lifts_hold = BooleanField()
    staff = ForeignKeyField(Staff, index=False)
    at = BigIntegerField()

    class Meta:
        indexes = ((("decision", "revision"), True),)


class Consent(Table):
    """A person's consent to deal electronically, and to which wording."""

    person = ForeignKeyField(Person, backref="consents", on_delete="RESTRICT")
    version = CharField()
    at = BigIntegerField()
    withdrawn_at = BigIntegerField(null=True)


class QuestionBack(Table):
    """What somebody of the household says instead of answering. `kind`: a `question`, or that they want
    `another_option`: a new revision settles that, too."""

    decision = ForeignKeyField(Decision, backref="questions_back", on_delete="CASCADE")
    revision = IntegerField()
    kind = CharField(default="question")
    person = ForeignKeyField(Person)
    text = TextField()
    asked_at = BigIntegerField()
    answer = TextField(null=True)
    answered_by = ForeignKeyField(Staff, null=True)
    answered_at = BigIntegerField(null=True)


class Release(Table):
    """The manager let a held phase start without an approval, and why."""

    phase = ForeignKeyField(Phase, backref="releases", on_delete="CASCADE")
    decision = ForeignKeyField(Decision)
    reason = TextField()
    staff = ForeignKeyField(Staff)
    at = BigIntegerField()


class ReleaseTakenBack(Table):
    """A release that was made by mistake, and taken back before the work started. The release itself stays."""

    release = ForeignKeyField(Release, primary_key=True, on_delete="RESTRICT")
    reason = TextField()
    staff = ForeignKeyField(Staff, index=False)
    at = BigIntegerField()
