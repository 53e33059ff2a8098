"""A report as values: a title, and sections of lines."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ReportSection:
    """A heading and its lines, each a text without markup."""

    heading: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Report:
    """`under`: the lines below the title. `foot`: stands on every page, beside its number."""

    title: str
    under: tuple[str, ...]
    sections: tuple[ReportSection, ...]
    foot: str
