"""The forms that ask a decision, ask it again, and change what is not part of the question."""

from collections.abc import Iterable, Mapping
from string import ascii_lowercase
from typing import Any

from marshmallow import fields, validate

from portal.api.http.shapes import Whole
from portal.api.resources.asked.options import AMOUNT, OptionSchema
from portal.api.resources.decisions import AgainSchema, ChangeSchema, DecisionSchema, QuestionWithdrawalSchema
from portal.store.facts import Snapshot
from portal.web.forms import choices
from portal.web.forms.inputs import ONE_OF, Choices, Field, Form, grouped
from portal.web.forms.plain_fields import Dollars
from portal.words.lists import quoted

OFFERED, FIRST = 6, 2
"""How many options a question in words can have, and how many stand open."""

_OPTION = [
    Field("key", "", "hidden"),
    Field("title", "What it is"),
    Field("cost_cents", "Price in dollars", hint="0: no change. -30: thirty less. Empty: nothing is said."),
]
"""What stands open of an option; the rest is folded below it."""

_MORE = [
    Field("recommended", "We recommend this one", "picked"),
    Field("effects", "What it means for them", "text"),
    Field("days", "Working days more", "number", hint="0: no change. Empty: nothing is said."),
    Field("cannot_be_undone", "What can’t be undone"),
    Field("finish.maker", "A finish: who makes it"),
    Field("finish.line", "Its line"),
    Field("finish.color", "Its color"),
    Field("finish.number", "Its number"),
    Field("finish.sample_at", "Where the sample lies", hint="As it follows “the sample”: on the kitchen sill."),
    Field("finish.swatch", "The color on a screen", hint="As # and six digits or letters a to f: #d9d2c3."),
    Field("sent", "Photos of it", "file", hint="From this phone or computer. They are kept with the question."),
]

class PhotoNames(fields.List):
    """The photos of an option, by their names."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return [one["name"] for one in value or ()]


class OptionForm(OptionSchema):
    cost_cents = Dollars(allow_none=True, load_default=None, validate=AMOUNT)
    photos = PhotoNames(fields.String())


def _options() -> fields.List:
    at_least = validate.Length(1, OFFERED, error="Give at least one option a title.")
    return fields.List(Whole(OptionForm), load_default=list, validate=at_least)


class AskForm(DecisionSchema):
    options = _options()


class AskAgainForm(AgainSchema):
    options = _options()


def _option_fields(snapshot: Snapshot, sent: Choices, shown: int) -> list[Field]:
    """`sent`: photos that came with this form; `shown`: so many options stand open."""
    found = [*sent, *choices.photos(snapshot)]
    pick = [Field("photos", "Photos that it shows", "choices", choices=found)] if found else []
    return [one for number in range(OFFERED) for one in _of_option(number, pick, number < max(shown, FIRST))]


def _of_option(number: int, pick: list[Field], is_open: bool) -> list[Field]:
    name, prefix = f"Option {number + 1}", f"options.{number}."
    if is_open:
        return [*grouped(name, _OPTION, prefix),
                *grouped(f"More about option {number + 1}", [*_MORE, *pick], prefix, folded=True)]
    return grouped(f"Add an option: {number + 1}", [*_OPTION, *_MORE, *pick], prefix, folded=True, adds=True)


def _recommended() -> Field:
    every = [(f"options.{number}.recommended", f"Option {number + 1}") for number in range(OFFERED)]
    return Field(ONE_OF, "We recommend", "one_of", choices=[("", "none of them"), *every])


def asking_fields(snapshot: Snapshot, *others: Field) -> list[Field]:
    """What waits for an answer: the phase and the days stand open, all else is folded, `others` with it."""
    phases = choices.startable(snapshot)
    first = Field("holds", "Which phase waits for it", "choice", choices=[("", "no phase"), *phases],
                  hint="It can’t start before this is approved.")
    more = Field("holds", "More phases that wait for it", "choices", choices=phases, ident="more-holds")
    _, lead, *rest = waiting_fields(snapshot, [])
    return [first, lead, *grouped("Room, who approves, more phases", [*others, *rest, more], folded=True)]


def waiting_fields(snapshot: Snapshot, held: list[int]) -> list[Field]:
    return [
        Field("holds", "Which phases it holds", "choices", choices=choices.startable(snapshot, held),
              hint="They can’t start before this is approved."),
        Field("lead_days", "Working days between the answer and the start", "number",
              hint="Time to order what is chosen. Usually 1."),
        Field("asked_for", "Asked for by", "date", hint="Only where no phase waits for it."),
        Field("approvers", "Who must approve it", "choice", choices=choices.approvers(snapshot)),
    ]


def ask_form(snapshot: Snapshot, sent: Choices = (), offered: int = FIRST) -> Form:
    question = Field("question", "The question", "text", required=True, hint="As the household reads it, to its end.")
    kind = Field("kind", "About", "choice", choices=choices.kinds(), hint="They read our guidance on this beside it.")
    room = Field("room", "Room", "choice", choices=choices.rooms(snapshot))
    asked = [question, *_option_fields(snapshot, sent, offered), _recommended(), *asking_fields(snapshot, kind, room)]
    return Form("Ask a decision", asked, AskForm(), "Ask the household")


def again_form(snapshot: Snapshot, number: int, revision: int, offered: int, sent: Choices = ()) -> Form:
    question = Field("question", "The question", "text", required=True)
    reason = Field("reason", "Why it changes", hint="The household reads this.")
    asked = [question, *_option_fields(snapshot, sent, offered), _recommended(), reason]
    return Form(
        f"Ask decision {number} again, changed", asked, AskAgainForm(), "Ask it again",
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
        if "photos" in option:
            said["photos"] = named_photos(option["photos"], old.get("photos") or ())
        merged.append(old | said)
    return merged


def with_ticked(values: dict[str, Any]) -> dict[str, Any]:
    """A question as the form has it, the photos of its options as the API takes them."""
    options = [one | {"photos": named_photos(one.get("photos") or [])} for one in values["options"]]
    return values | {"options": options}


def named_photos(names: list[str], before: Iterable[Mapping[str, Any]] = ()) -> list[dict[str, Any]]:
    """Photos that were ticked, as the API takes them; one that was there `before` keeps its words."""
    captions = {one["name"]: one.get("caption", "") for one in before}
    return [{"name": name, "caption": captions.get(name, "")} for name in names]
