"""Plain forms over the same schemas as the API: what was typed comes back when it is refused."""

import json
from collections.abc import Callable, Mapping
from typing import Any

from flask import Response, abort, flash, redirect, request, url_for
from marshmallow import ValidationError, fields, missing

from portal.api.http.shapes import Hours
from portal.store.refusals import Refused
from portal.store.rows.editable import project_row
from portal.web.desk.blueprint import who
from portal.web.desk.conflict_words import Said, warned
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form
from portal.web.forms.nesting import Positions, declared, faults, nested, value_at
from portal.web.forms.once import once
from portal.web.forms.plain_words import plain
from portal.words.typed import legible

Values = dict[str, Any]
Texts = Mapping[str, list[str]]
Errors = dict[str, list[str]]
Do = Callable[[Values], Said]
"""Does it; returns the sentence that says what was done, perhaps with the address to go on to."""

CHECK = "Please look at what is marked below; nothing was changed."


class RowsRefused(Refused):
    """Several inputs can't be used at once: `faults` is a list of (path of the input, message)."""

    status = 422
    sentence = CHECK


def handle(
    form: Form, do: Do, then: str, start: Mapping[str, Any] | None = None, *,
    repeatable: bool = False, **around: Any,
) -> Response:
    """GET shows the form, filled from `start`. POST validates, does it, says what was done, and goes on to `then`.

    A refusal shows the form again with all that was typed; a form that comes twice is done once, unless it is
    `repeatable`. `around`: what the
    template needs besides; with `seen`, the form carries the version of what it changes.
    """
    if request.method == "GET":
        return _shown(form, _texts(form, start or {}), {}, "", 200, around)
    if "seen" in around:
        around["seen"] = seen()
    positions: Positions = {}
    try:
        values = load(form, positions)
        done = _done(do, values, then) if repeatable else (
            once(who(), request.form.get("once", ""), lambda: _done(do, values, then)))
    except ValidationError as error:
        return _refused(form, placed(form, faults(error.normalized_messages(), positions)), CHECK, 422, around)
    except RowsRefused as refusal:
        return _refused(form, placed(form, refusal.details["faults"]), str(refusal), refusal.status, around)
    except Refused as refusal:
        message = str(refusal.details.get("message", refusal))
        place = form.holder_of(refusal.field or "")
        return _refused(form, {place: [message]} if place else {}, message, refusal.status, around)
    said, onward = json.loads(done)
    flash(said)
    return redirect(onward, 303)  # type: ignore[return-value]


def project_form(
    form: Form, do: Do, project_id: int, start: Mapping[str, Any] | None = None, *, then: str = "", **around: Any,
) -> Response:
    """A form about one project: it names the house on top, says which visits the change makes impossible, and goes on
    to the project's page."""
    project = project_row(project_id)
    onward = then or url_for("desk.project", project_id=project_id)
    return handle(form, lambda values: warned(project_id, lambda: do(values)), onward, start, project=project, **around)


def seen() -> int:
    """The version of what the form changes, as it was when the form was opened."""
    text = request.form.get("seen", "")
    return int(text) if text.isdecimal() and len(text) < 10 else abort(400)


def _done(do: Do, values: Values, then: str) -> str:
    said = do(values)
    return json.dumps([said, then] if isinstance(said, str) else said)


def load(form: Form, positions: Positions) -> Values:
    """The request's form as the schema's values. A blank field is empty or null where the schema allows it."""
    sent, rows = nested(form.schema, {one.name: _sent(form, one) for one in form.fields if one.kind != "file"})
    positions.update(rows)
    loaded: Values = form.schema.load(sent)
    return loaded


def _sent(form: Form, one: Field) -> Any:
    if one.kind == "yes":
        return one.name in request.form
    field = declared(form.schema, one.name)
    if one.kind == "choices":
        return [_typed(field, value) for value in request.form.getlist(one.name) if value]
    if one.kind == "password":
        return request.form.get(one.name) or missing
    text = request.form.get(one.name, "").strip()
    return _typed(field, text) if text else missing if one.kind == "hidden" else _blank(field)


def _blank(field: Any) -> Any:
    if field is None or field.required:
        return missing
    if field.allow_none:
        return None
    return "" if isinstance(field, fields.String) else missing


def _typed(field: Any, text: str) -> Any:
    """A number where the schema wants one; anything that is none is left for the schema to refuse."""
    inner = field.inner if isinstance(field, fields.List) else field
    try:
        if isinstance(inner, fields.Integer) and len(text) < 16:
            return int(text)
        return float(text) if isinstance(inner, Hours) else text
    except ValueError:
        return text


def _refused(form: Form, errors: Errors, message: str, status: int, around: Mapping[str, Any]) -> Response:
    typed = {one.name: [legible(text) for text in request.form.getlist(one.name)] for one in form.fields}
    apart = [one for one in errors.pop("", []) if one != message]
    return _shown(form, typed, errors, " ".join([message, *apart]), status, around)


def placed(form: Form, found: Any) -> Errors:
    """Messages by the field that they stand with; those that belong to none under the empty name."""
    errors: Errors = {}
    for path, message in found:
        errors.setdefault(form.holder_of(path), []).append(plain(message))
    return errors


def _shown(form: Form, typed: Texts, errors: Errors, message: str, status: int, around: Mapping[str, Any]) -> Response:
    return show(
        form.template, status, form=form, typed=typed, errors=errors, message=message, stale=status == 412,
        **{"seen": None, "project": None, **around},
    )


def _texts(form: Form, start: Mapping[str, Any]) -> Texts:
    """Values as a form holds them: lists of strings."""
    return {one.name: _as_texts(value_at(start, one.name)) for one in form.fields}


def _as_texts(value: Any) -> list[str]:
    if value is None or value is False:
        return []
    if value is True:
        return ["on"]
    return [str(one) for one in value] if isinstance(value, list | tuple) else [str(value)]
