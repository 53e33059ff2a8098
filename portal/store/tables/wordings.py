"""The words that were shown beside a question, and those that were agreed to."""

from peewee import CharField, TextField

from portal.store.tables.base import Table


class Wording(Table):
    """Markdown, once for each version, which is its SHA-256 (before, the first 16 digits of it). Only ever added."""

    version = CharField(primary_key=True)
    text = TextField()
