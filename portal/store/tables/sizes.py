"""What was measured once, or read off a sheet: a top, a sink, a faucet, a shop's limits."""

from peewee import CharField, ForeignKeyField, JSONField

from portal.store.tables.base import Versioned
from portal.store.tables.project import Project


class KeptSize(Versioned):
    """`project`: the house's; null: the firm's, for every house. `values`: by the fields of its `what`
    (portal.layouts.sizes.whats), lengths as they were written. `source`: who measured it, or whose sheet says it."""

    project = ForeignKeyField(Project, null=True, backref="kept_sizes", on_delete="CASCADE", index=False)
    what = CharField()
    name = CharField()
    values = JSONField()
    source = CharField()

    class Meta:
        indexes = ((("project", "what", "name"), True),)
