"""Plain forms over the same schemas as the API: a form lists its fields; what was typed comes back when it is refused."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from flask import Response, flash, redirect, request
from marshmallow import Schema, ValidationError, fields, missing

from portal.api.shapes import Hours
from portal.store.refusals import Refused
from portal.web.desk.blueprint import who
from portal.web.desk.showing import show
from portal.web.once import once as done_once

Values = dict[str, Any]
Texts = Mapping[str, list[str]]
Errors = dict[str, list[str]]


@dataclass(frozen=True, slots=True)
class Field:
    """One labelled input. `kind`: line, text, date, time, moment, number, money, yes, choice, choices, email, phone."""

    name: str
    label: str
    kind: str = "line"
    hint: str = ""
    required: bool = False
    choices: Sequence[tuple[str, str]] = ()


@dataclass(frozen=True)
class Form:
    """A form page: its heading, its fields, the schema that validates it, and the word on its button."""

    title: str
    fields: Sequence[Field]
    schema: Schema
    button: str
    template: str = "form.html"
    intro: str = ""

    @property
    def has_files(self) -> bool:
        return any(one.kind == "file" for one in self.fields)

    def named(self, name: str) -> Field | None:
        return next((one for one in self.fields if one.name == name), None)


def handle(
    form: Form, do: Callable[[Values], str], then: str, start: Mapping[str, Any] | None = None, *,
    once: bool = True, **around: Any,
) -> Response:
    """GET shows the form, filled from `start`. POST validates, does it, says what was done, and goes on to `then`.

    `do` returns the sentence that says what was done. A refusal shows the form again with all that was typed; a form
    that comes twice is done once. `around`: what the template needs besides.
    """
    if request.method == "GET":
        return _shown(form, _texts(form, start or {}), {}, "", 200, around)
    typed = {one.name: request.form.getlist(one.name) for one in form.fields}
    try:
        values = load(form)
        said = done_once(who(), request.form.get("once", ""), lambda: do(values)) if once else do(values)
    except ValidationError as error:
        errors = _flat(error.normalized_messages())
        return _shown(form, typed, errors, "Please look at what is marked below; nothing was changed.", 422, around)
    except Refused as refusal:
        named = refusal.field if refusal.field and form.named(refusal.field) else None
        message = str(refusal.details.get("message", refusal))
        return _shown(form, typed, {named: [message]} if named else {}, message, refusal.status, around)
    flash(said)
    return redirect(then, 303)  # type: ignore[return-value]


def load(form: Form) -> Values:
    """The request's form as the schema's values. A blank field is empty or null where the schema allows it."""
    sent = {one.name: _sent(form, one) for one in form.fields if one.kind != "file"}
    loaded: Values = form.schema.load({name: value for name, value in sent.items() if value is not missing})
    return loaded


def _sent(form: Form, one: Field) -> Any:
    if one.kind == "yes":
        return one.name in request.form
    declared = form.schema.fields.get(one.name)
    if one.kind == "choices":
        return [_typed(declared, value) for value in request.form.getlist(one.name) if value]
    text = request.form.get(one.name, "").strip()
    return _typed(declared, text) if text else _blank(declared)


def _blank(declared: Any) -> Any:
    if declared is None or declared.required:
        return missing
    if declared.allow_none:
        return None
    return "" if isinstance(declared, fields.String) else missing


def _typed(declared: Any, text: str) -> Any:
    """A number where the schema wants one; anything that is none is left for the schema to refuse."""
    inner = declared.inner if isinstance(declared, fields.List) else declared
    try:
        if isinstance(inner, fields.Integer):
            return int(text)
        return float(text) if isinstance(inner, Hours) else text
    except ValueError:
        return text


def _shown(form: Form, typed: Texts, errors: Errors, message: str, status: int, around: Mapping[str, Any]) -> Response:
    return show(form.template, status, form=form, typed=typed, errors=errors, message=message, **around)


def _texts(form: Form, start: Mapping[str, Any]) -> Texts:
    """Values as a form holds them: lists of strings."""
    return {one.name: _as_texts(start.get(one.name)) for one in form.fields}


def _as_texts(value: Any) -> list[str]:
    if value is None or value is False:
        return []
    if value is True:
        return ["on"]
    return [str(one) for one in value] if isinstance(value, list | tuple) else [str(value)]


def _flat(messages: Any) -> Errors:
    """Marshmallow's messages by field: those of nested values stand with the field that holds them."""
    return {str(name): _leaves(inner) for name, inner in messages.items()}


def _leaves(messages: Any) -> list[str]:
    if isinstance(messages, dict):
        return [leaf for inner in messages.values() for leaf in _leaves(inner)]
    return [str(message) for message in (messages if isinstance(messages, list) else [messages])]
