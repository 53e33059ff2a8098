"""What the page that asks with drawings shows: the inputs as typed, the layouts of them, and what is wrong."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from flask import Response, request

from portal.acts.decisions.layout_options import layouts_of
from portal.content import guidance_for
from portal.pages.decision.option_drawing import advice_of
from portal.record.log.canonical import digest
from portal.request.by_script import note_refused
from portal.store.refusals import Refused
from portal.web.desk.decisions.picking import boxes_of
from portal.web.desk.forms import CHECK
from portal.web.desk.showing import show
from portal.web.forms import layout_forms as made
from portal.web.forms.blank_faults import checked
from portal.web.forms.blanks import groups, growing
from portal.web.forms.drawn_forms import DrawnForm, drawn_form
from portal.web.forms.inputs import Field, Form, grouped
from portal.web.forms.nesting import Positions
from portal.words.plurals import counted

OPEN_ROWS = 4
"""So many layouts that fit stand open, the others folded."""

_NEVER_CARRIED = {"mark", "once", "seen", "step", "more", "looked", "pressed_at"}


@dataclass
class Draft:
    """First what is measured is asked for; once there are layouts of it, which of them to offer. `asking`: what was
    pressed is the question. `drawing`: a script looks while somebody types, so that nobody is blamed yet."""

    kind: str
    form: Form
    asked: Sequence[Mapping[str, Any]] = ()  # the options of the revision that is asked again
    around: dict[str, Any] = field(default_factory=dict)  # what the template needs besides
    typed: dict[str, list[str]] = field(default_factory=dict)
    dimensions: dict[str, Any] = field(default_factory=dict)
    rows: list[made.Row] = field(default_factory=list)
    total: int = 0
    errors: dict[str, list[str]] = field(default_factory=dict)
    message: str = ""
    told: list[str] = field(default_factory=list)  # what was filled in, and what was kept
    begun: dict[str, list[str]] = field(default_factory=dict)  # what stands in the question before it is first shown
    asking: bool = False
    drawing: bool = False

    @property
    def mark(self) -> str:
        """Stands for the dimensions that were looked at."""
        return digest(self.dimensions)[:16]

    @property
    def advice(self) -> list[str]:
        return advice_of(row.option for row in self.rows)

    @property
    def here(self) -> str:
        return request.full_path

    @property
    def offers(self) -> bool:
        """Whether it is asked which layouts to offer."""
        return bool(self.rows) and not self.drawing

    @property
    def has_question(self) -> bool:
        return self.offers or self.asking

    @cached_property
    def measured(self) -> DrawnForm:
        found = groups(self.kind, sent=self.typed)
        kept = boxes_of(found, self.around["project"].id)
        return drawn_form(self.kind, found, kept, self.typed, {} if self.drawing else self.errors, self.errors)

    @property
    def fitting(self) -> list[made.Row]:
        """Layouts that keep every rule; those that stand open come first."""
        return [row for row in self.rows if row.layout.ok]

    @property
    def failing(self) -> list[made.Row]:
        return [row for row in self.rows if not row.layout.ok]

    @property
    def failing_wanted(self) -> bool:
        """Whether one that breaks a rule is to be offered all the same."""
        return any(row.key in self.typed.get("offer", []) for row in self.failing)

    @property
    def at_hand(self) -> tuple[list[made.Row], list[made.Row]]:
        """Those that fit and stand open, and the others: whatever is ticked, or wrong, stands open."""
        ticked = self.typed.get("offer", [])
        shown = [row for at, row in enumerate(self.fitting)
                 if at < OPEN_ROWS or row.key in ticked or any(one.name in self.errors for one in row.fields)]
        return shown, [row for row in self.fitting if row not in shown]

    @property
    def wrong(self) -> list[Field]:
        """The inputs that are refused, in their order on the page."""
        worded = [one for row in self.rows for one in grouped(row.layout.title, row.fields)] if self.offers else []
        every = [*self.measured.fields, *([made.OFFER] if self.offers else []), *worded, *self.form.fields]
        return list({one.place: one for one in every if self.errors.get(one.name)}.values())

    @property
    def missing(self) -> list[Field]:
        """What is still to be given, or can't be read yet."""
        return [one for one in self.measured.fields if self.errors.get(one.name)]

    @property
    def sum(self) -> str:
        """What it comes to, in two words: for a phone, where the whole stands below the picture."""
        if self.rows:
            return counted(len(self.fitting), "fits", "fit")
        return f"{len(self.missing)} to give" if self.drawing and self.missing else ""

    @property
    def carried(self) -> list[tuple[str, str]]:
        """What was typed and has no input on this page; it is sent along, so that it is there again later."""
        shown = {one.name for one in self.measured.fields} | _NEVER_CARRIED
        shown |= {f"rows.{one.path}" for one in growing(self.kind, self.typed)}
        if self.has_question:
            shown |= {one.name for one in self.form.fields}
        if self.offers:
            shown |= {"offer", "recommended"} | {one.name for row in self.rows for one in row.fields}
        return [(name, text) for name, texts in self.typed.items() if name not in shown for text in texts if text]

    def lay_out(self, dimensions: dict[str, Any], positions: Positions, offered: Sequence[str]) -> None:
        self.dimensions = dimensions
        self.errors = checked(self.kind, dimensions, positions)
        if self.errors:
            self.message = CHECK
            return
        try:
            found = layouts_of(self.kind, dimensions)
        except Refused as refusal:
            self.errors, self.message = {"": []}, str(refusal.details["message"])
            return
        self.rows, self.total = made.rows_of(self.kind, dimensions, found, offered, self.asked), len(found)

    def _refused_with(self) -> list[str]:
        """Why it is refused, in sentences: whoever pressed it may look elsewhere by now."""
        return [": ".join(filter(None, (one.group, one.label, " ".join(self.errors[one.name])))) for one in self.wrong]

    def show(self, status: int = 200) -> Response:
        if status >= 400:
            note_refused(self._refused_with() or [self.message])
        title = guidance_for(self.kind)
        wrong = {} if self.drawing else self.errors
        return show(
            "layouts.html", status, draft=self, form=self.form, drawn=self.measured, typed=self.typed, errors=wrong,
            growing=growing(self.kind, self.typed), kind_title=title.title if title else self.kind,
            **{"seen": None, "planned": None, "already": (), **self.around},
        )  # fmt: skip
