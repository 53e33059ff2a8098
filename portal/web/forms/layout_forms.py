"""Asking with drawings: the layouts that were worked out, which of them are offered, and the question around them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from operator import attrgetter
from string import ascii_lowercase
from typing import Any

from markupsafe import Markup
from marshmallow import ValidationError

from portal.acts.decisions.layout_options import kept, kept_layout
from portal.api.resources.asked.options import DespiteSchema
from portal.api.resources.decisions import AgainSchema, DecisionSchema
from portal.drawings.front_kinds import card_view
from portal.drawings.writers.front_svg import card_svg
from portal.layouts.kept_checks import faults, is_drawn, layout_in
from portal.layouts.layout import Layout
from portal.pages.decision.option_drawing import OptionDrawing, drawing_of
from portal.store.facts import Snapshot
from portal.web.forms import choices
from portal.web.forms.decision_forms import OptionForm, asking_fields
from portal.web.forms.inputs import Field, Form
from portal.web.forms.plain_fields import dollars
from portal.web.forms.plain_words import plain

MOST_SHOWN = 12
LEAST = 2
"""So many of the distances that a layout keeps most narrowly stand beside it."""

_WORDS = [
    Field("cost_cents", "Price in dollars"),
    Field("title", "As the household reads it"),
    Field("effects", "What it means for them", "text", hint="Empty: what the layout says, as above."),
    Field("cannot_be_undone", "What can’t be undone", "text", hint="Empty: what the layout says, as above."),
    Field("days", "Working days more", "number", hint="0: no change. Empty: nothing is said."),
]
OFFER = Field("offer", "Which to offer")
OFFER_ONE = "Offer at least one layout: tick it."
_DESPITE = Field(
    "despite", "Why it is offered all the same", "text",
    hint="The household reads this above the choice, with your name. It goes on the record, and the sheet says FAILS.",
)


@dataclass(frozen=True)
class Row:
    """A layout as it is shown, and the inputs that make an option of it. One that breaks a rule has an input for the
    reason why it is offered all the same, the first."""

    key: str
    layout: Layout
    option: dict[str, Any]
    drawing: OptionDrawing | None
    picture: Markup
    fields: tuple[Field, ...]

    @property
    def price(self) -> Field:
        """The input that stands open beside its tick."""
        return next(one for one in self.fields if one.name.endswith(".cost_cents"))

    @property
    def words(self) -> list[Field]:
        """The others."""
        return [one for one in self.fields if one is not self.price]

    @property
    def least(self) -> str:
        """The distances that it keeps most narrowly, in numbers; empty where nothing stops it."""
        rules = sorted((one for one in self.layout.checks if one.stops), key=attrgetter("margin"))
        said = "; ".join(one.in_numbers for one in rules[:LEAST])
        return f"{said[:1].upper()}{said[1:]}." if said else ""


class AskLayoutsForm(DecisionSchema):
    class Meta(DecisionSchema.Meta):
        exclude = ("options", "detail", "kind")


class AskLayoutsAgainForm(AgainSchema):
    class Meta(AgainSchema.Meta):
        exclude = ("options", "detail")


def question_form(snapshot: Snapshot) -> Form:
    question = Field("question", "The question", "text", required=True, hint="As the household reads it, to its end.")
    room = Field("room", "Room", "choice", choices=choices.rooms(snapshot))
    return Form("Ask", [question, *asking_fields(snapshot, room)], AskLayoutsForm(), "Ask the household")


def again_form(number: int, revision: int) -> Form:
    question = Field("question", "The question", "text", required=True)
    reason = Field("reason", "Why it changes", hint="The household reads this.")
    intro = f"This becomes revision {revision + 1}. Approvals of earlier ones no longer count."
    return Form(f"Ask decision {number} again", [question, reason], AskLayoutsAgainForm(), "Ask it again", intro=intro)


def rows_of(
    kind: str, dimensions: Mapping[str, Any], layouts: Sequence[Layout], offered: Sequence[str],
    asked: Sequence[Mapping[str, Any]] = (),
) -> list[Row]:
    """The best of the layouts, and those further down that are `offered` by their keys, or `asked` already."""
    wanted = {*offered, *_by_layout(layouts, asked)}
    shown = [one for rank, one in enumerate(layouts) if rank < MOST_SHOWN or one.key in wanted]
    return [_row(one, kind, dimensions) for one in shown]


def _row(layout: Layout, kind: str, dimensions: Mapping[str, Any]) -> Row:
    key = layout.key
    wanted = _WORDS if layout.ok else [_DESPITE, *_WORDS]
    named = tuple(Field(f"layouts.{key}.{one.name}", one.label, one.kind, one.hint, one.required) for one in wanted)
    option = {"key": key, "detail": kept(layout)}
    picture = card_svg(card_view(kind, [kept(layout)], dimensions))
    return Row(key, layout, option, drawing_of(option), Markup(picture), named)


def options_from(
    rows: Sequence[Row], sent: Any, asked: Sequence[Mapping[str, Any]] = ()
) -> tuple[list[dict[str, Any]], dict[str, list[str]]]:
    """The ticked layouts as options, in their order, and what is wrong with their inputs. An option that is `asked`
    already keeps its key, and stays where it is words only; what is kept of a drawing in no shape of ours does not."""
    options: list[dict[str, Any]] = []
    wrong: dict[str, list[str]] = {}
    ticked, recommended = sent.getlist("offer"), sent.get("recommended")
    for row in rows:
        if row.key in ticked:
            values = {one.name: sent.get(f"layouts.{row.key}.{one.name}", "").strip() for one in _WORDS}
            try:
                reason = _reason(row, sent)
                options.append(_option(row, values, row.key == recommended) | reason)
            except ValidationError as error:
                messages = error.normalized_messages()
                wrong |= {f"layouts.{row.key}.{name}": [plain(m) for m in found] for name, found in messages.items()}
    words_only = [dict(option) for option in asked if not is_drawn(option)]
    return _keyed(rows, options, asked) + words_only, wrong


def _reason(row: Row, sent: Any) -> dict[str, Any]:
    """Why a layout that breaks a rule is offered all the same. Raises ValidationError where nothing was written."""
    if row.layout.ok:
        return {}
    text = sent.get(f"layouts.{row.key}.despite", "").strip()
    if not text:
        raise ValidationError({"despite": ["Say why in writing, or don’t offer it."]})
    try:
        return {"despite": DespiteSchema().load({"reason": text})}
    except ValidationError as error:
        raise ValidationError({"despite": error.normalized_messages()["reason"]}) from error


def _keyed(
    rows: Sequence[Row], options: list[dict[str, Any]], asked: Sequence[Mapping[str, Any]]
) -> list[dict[str, Any]]:
    keys = {layout: str(option["key"]) for layout, option in _by_layout([row.layout for row in rows], asked).items()}
    taken = {str(option["key"]) for option in asked}
    free = (letter for letter in ascii_lowercase if letter not in taken)
    return [{**option, "key": keys.get(option["detail"]["layout"]) or next(free)} for option in options]


def _option(row: Row, values: dict[str, str], recommended: bool) -> dict[str, Any]:
    sent: dict[str, Any] = {name: text for name, text in values.items() if text}
    if sent.get("days", "").removeprefix("-").isdecimal():
        sent["days"] = int(sent["days"])
    loaded: dict[str, Any] = OptionForm().load(sent)
    return loaded | {"recommended": recommended, "detail": {"layout": row.key}}


def _by_layout(
    layouts: Sequence[Layout], asked: Sequence[Mapping[str, Any]]
) -> dict[str, Mapping[str, Any]]:
    """The options that are asked already, by the key of their layout; those with none of these are left out."""
    found = ((kept_layout(option, layouts), option) for option in asked)
    return {layout.key: option for layout, option in found if layout}


def offered_texts(rows: Sequence[Row], options: Sequence[Mapping[str, Any]] = ()) -> dict[str, list[str]]:
    """How the inputs of the rows begin: as the options that are asked already, else with the layout's title."""
    asked = _by_layout([row.layout for row in rows], options)
    found: dict[str, list[str]] = {}
    for row in rows:
        option = asked.get(row.key)
        for name, text in _begins(row, option or {}):
            found[f"layouts.{row.key}.{name}"] = [text]
        if option:
            found.setdefault("offer", []).append(row.key)
        if option and option.get("recommended") and row.layout.ok:
            found["recommended"] = [row.key]
        if option and not row.layout.ok and faults(layout_in(option)) == faults(row.layout.to_json()):
            found[f"layouts.{row.key}.despite"] = [_reason_of(option)]
    return found


def _reason_of(option: Mapping[str, Any]) -> str:
    despite = option.get("despite")
    return str(despite.get("reason", "")) if isinstance(despite, dict) else ""


def _begins(row: Row, option: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    own = _said_by_layouts(row, option)
    title = option.get("title") or ""
    yield "title", row.layout.title if title in own["title"] else title
    for name in ("effects", "cannot_be_undone"):
        text = option.get(name) or ""
        yield name, "" if text in own[name] else text
    cost, days = option.get("cost_cents"), option.get("days")
    yield "cost_cents", "" if cost is None else dollars(cost)
    yield "days", "" if days is None else str(days)


def _said_by_layouts(row: Row, option: Mapping[str, Any]) -> dict[str, set[str]]:
    """What the layout says by itself, now and when it was asked before: all else somebody wrote, and it is kept."""
    before = layout_in(option)
    once = before.get("cannot_be_undone")
    return {
        "title": {"", row.layout.title, before.get("title", "")},
        "effects": {" ".join(row.layout.effects), " ".join(before.get("effects", []))},
        "cannot_be_undone": {row.layout.cannot_be_undone, once if isinstance(once, str) else ""},
    }
