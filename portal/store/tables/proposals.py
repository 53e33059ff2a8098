"""What a designer proposes for a decision. It settles nothing: the manager asks, the household approves."""

from peewee import BigIntegerField, CharField, ForeignKeyField, JSONField, TextField

from portal.store.tables.base import Table
from portal.store.tables.decisions import Decision
from portal.store.tables.project import Person


class Proposal(Table):
    """`dimensions`: of the decision, with the placement changed. `layout`: the title of one of their layouts, as it
    was worded then; `layout_key` names it whatever the wording, null where it was proposed before there were keys."""

    decision = ForeignKeyField(Decision, backref="proposals", on_delete="CASCADE")
    person = ForeignKeyField(Person, on_delete="RESTRICT", index=False)
    dimensions = JSONField()
    layout = CharField()
    layout_key = CharField(null=True)
    note = TextField(default="")
    at = BigIntegerField()
    outcome = CharField(default="")  # taken, changed, refused; "": nothing yet
    because = TextField(default="")
    settled_at = BigIntegerField(null=True)
