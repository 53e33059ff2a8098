"""The forms that ask a decision, ask it again, and change what is not part of the question."""

from string import ascii_lowercase
from typing import Any

from marshmallow import fields, validate

from portal.api.http.shapes import Whole
from portal.api.resources.decisions import (
    AMOUNT,
    AgainSchema,
    ChangeSchema,
    DecisionSchema,
    OptionSchema,
    QuestionWithdrawalSchema,
)
from portal.store.facts import Snapshot
from portal.web.forms import choices
from portal.web.forms.inputs import Field, Form, grouped
from portal.web.forms.plain_fields import Dollars
from portal.words.lists import quoted

OFFERED = 6

_OPTION = [
    Field("key", "", "hidden"),
    Field("title", "What it is"),
    Field("effects", "What it means for them", "text"),
    Field("cannot_be_undone", "What can’t be undone"),
    Field("cost_cents", "Cost in dollars", hint="0: no change. -30: thirty less. Empty: nothing is said."),
    Field("days", "Working days more", "number", hint="0: no change. Empty: nothing is said."),
    Field("recommended", "We recommend this one", "yes"),
]


class OptionForm(OptionSchema):
    cost_cents = Dollars(allow_none=True, load_default=None, validate=AMOUNT)


def _options() -> fields.List:
    at_least = validate.Length(1, OFFERED, error="Give at least one option a title.")
    return fields.List(Whole(OptionForm), load_default=list, validate=at_least)


class AskForm(DecisionSchema):
    options = _options()


class AskAgainForm(AgainSchema):
    options = _options()


def _option_fields() -> list[Field]:
    named = [f"Option {number + 1}" for number in range(OFFERED)]
    return [one for i, group in enumerate(named) for one in grouped(group, _OPTION, f"options.{i}.", i > 1)]


def waiting_fields(snapshot: Snapshot, held: list[int]) -> list[Field]:
    return [
        Field("holds", "Which phases it holds", "choices", choices=choices.startable(snapshot, held),
              hint="They can’t start before this is approved."),
        Field("lead_days", "Working days between the answer and the start", "number",
              hint="Time to order what is chosen. Usually 1."),
        Field("asked_for", "Asked for by", "date", hint="Only where no phase waits for it."),
        Field("approvers", "Who must approve it", "choice", choices=choices.approvers(snapshot)),
    ]


def ask_form(snapshot: Snapshot) -> Form:
    question = Field("question", "The question", "text", required=True, hint="As the household reads it, to its end.")
    kind = Field("kind", "About", "choice", choices=choices.kinds(), hint="They read our guidance on this beside it.")
    room = Field("room", "Room", "choice", choices=choices.rooms(snapshot))
    return Form("Ask a decision", [question, kind, room, *_option_fields(), *waiting_fields(snapshot, [])], AskForm(),
                "Ask the household", intro="Leave options that you don’t need empty.")


def again_form(number: int, revision: int) -> Form:
    question = Field("question", "The question", "text", required=True)
    reason = Field("reason", "Why it changes", hint="The household reads this.")
    return Form(
        f"Ask decision {number} again, changed", [question, *_option_fields(), reason], AskAgainForm(), "Ask it again",
        intro=f"This becomes revision {revision + 1}. Approvals of earlier ones no longer count. "
        "To take an option away, empty its fields.",
    )


def change_form(snapshot: Snapshot, number: int, held: list[int]) -> Form:
    room = Field("room", "Room", "choice", choices=choices.rooms(snapshot))
    title = f"Change what waits for decision {number}"
    return Form(title, [*waiting_fields(snapshot, held), room], ChangeSchema(partial=True), "Save it",
                intro="The question itself stays; to change that, ask it again.")


def withdraw_form(number: int, question: str, held: list[str]) -> Form:
    """`held`: the names of the phases that wait for it."""
    why = Field("reason", "Why it is withdrawn", "text", required=True,
                hint="The household reads it, and it goes on the record with your name.")
    lift = Field("lift_hold", f"Let {quoted(held)} start without an answer", "yes",
                 hint="Else the hold stays, until it is asked again and approved, or the work released.")
    return Form(f"Withdraw decision {number}", [why, *([lift] if held else [])], QuestionWithdrawalSchema(),
                "Withdraw it", intro=f"“{question}” Whoever was asked is told. It can be asked again.")


def typed_options(options: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The options as the form holds them, and rows for new ones, whose keys are free."""
    shown = [OptionForm().dump(option) for option in options]
    taken = {option["key"] for option in options}
    free = [letter for letter in ascii_lowercase if letter not in taken]
    return shown + [{"key": letter} for letter in free[: OFFERED - len(options)]]


def merged_options(before: list[dict[str, Any]], sent: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What was sent over what was there: a form knows not all of an option, and says nothing where it says blank. What
    is drawn of an option is not in this form, and stays."""
    known = {option["key"]: option for option in before}
    merged = []
    for option in sent:
        old = known.get(option["key"], {})
        said = {n: v for n, v in option.items() if n != "detail" and (n in old or v not in (None, "", False))}
        merged.append(old | said)
    return merged
