"""What a designer proposes for a decision. It settles nothing: the manager asks, the household approves."""

from peewee import BigIntegerField, CharField, ForeignKeyField, JSONField, TextField

from portal.store.tables.base import Table
from portal.store.tables.decisions import Decision
from portal.store.tables.project import Person


class Proposal(Table):
    """`dimensions`: of the decision, with the placement changed. `layout`: the title of one of their layouts."""

    decision = ForeignKeyField(Decision, backref="proposals", on_delete="CASCADE")
    person = ForeignKeyField(Person, on_delete="RESTRICT", index=False)
    dimensions = JSONField()
    layout = CharField()
    note = TextField(default="")
    at = BigIntegerField()
