"""Plain forms over the same schemas as the API: what was typed comes back when it is refused."""

import json
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from flask import Response, abort, flash, redirect, request, session, url_for
from marshmallow import ValidationError, fields, missing

from portal.api.http.shapes import Hours
from portal.request.by_script import note_refused
from portal.store.refusals import Refused
from portal.store.rows.editable import project_row
from portal.web.answer import asked_to_wait
from portal.web.desk.ahead import LookFirst, asked_first
from portal.web.desk.blueprint import who
from portal.web.desk.conflict_words import Said, warned
from portal.web.desk.showing import show
from portal.web.forms.inputs import ONE_OF, Field, Form
from portal.web.forms.nesting import Positions, declared, faults, nested, value_at
from portal.web.forms.once import once
from portal.web.forms.plain_words import plain
from portal.words.typed import legible

Values = dict[str, Any]
Texts = Mapping[str, list[str]]
Errors = dict[str, list[str]]
Fault = tuple[str, str]
"""The path of an input, and what is wrong with it."""
Do = Callable[[Values], Said]
"""Does it; returns the sentence that says what was done, perhaps with the address to go on to."""

CHECK = "Please look at what is marked below; nothing was changed."


class RowsRefused(Refused):
    """Several inputs can't be used at once: `faults` is a list of (path of the input, message)."""

    status = 422
    sentence = CHECK


def handle(
    form: Form, do: Do, then: str, start: Mapping[str, Any] | None = None, *,
    repeatable: bool = False, wrong: Sequence[Fault] = (), **around: Any,
) -> Response:
    """GET shows the form, filled from `start`. POST validates, does it, says what was done, and goes on to `then`.

    A refusal shows the form again with all that was typed; a form that comes twice is done once, unless it is
    `repeatable`. `wrong`: what was found wrong before, with the files, by path: it is said with all else. `around`:
    what the template needs besides; with `seen`, the form carries the version of what it changes.
    """
    if request.method == "GET":
        return _shown(form, _texts(form, start or {}), {}, "", 200, around)
    if "seen" in around:
        around["seen"] = seen()
    positions: Positions = {}
    try:
        values = load(form, positions)
        if wrong:
            raise RowsRefused(faults=[])
        done = _done(do, values, then) if repeatable else (
            once(who(), request.form.get("once", ""), lambda: _done(do, values, then)))
    except ValidationError as error:
        found = [*wrong, *faults(error.normalized_messages(), positions)]
        return _refused(form, placed(form, found), CHECK, 422, around)
    except RowsRefused as refusal:
        found = [*wrong, *refusal.details["faults"]]
        return _refused(form, placed(form, found), str(refusal), refusal.status, around)
    except LookFirst as first:
        shown = _refused(form, {}, str(first), first.status, around | first.details)
        note_refused(first.in_full)
        return shown
    except Refused as refusal:
        message = str(refusal.details.get("message", refusal))
        errors = {place: [said] for field, said in refusal.faults if (place := form.holder_of(field))}
        shown = _refused(form, errors, message, refusal.status, around)
        return asked_to_wait(shown, refusal)
    said, onward = json.loads(done)
    if said and ("message", said) not in session.get("_flashes", []):  # a second press says it once
        flash(said)
    return redirect(onward, 303)  # type: ignore[return-value]


def project_form(
    form: Form, do: Do, project_id: int, start: Mapping[str, Any] | None = None, *, then: str = "",
    look: bool = False, told: bool = False, **around: Any,
) -> Response:
    """A form about one project: it names the house on top, says which visits the change makes impossible, and goes on
    to the project's page. `look`: where the change moves dates, it is shown what moves before it is made. `told`: what
    it does was said before; its notice says only that it is done."""
    project = project_row(project_id)
    from_today = request.form.get("back") == "today"  # its buttons stand on the list of the day, too
    onward = url_for("desk.every") if from_today else then or url_for("desk.project", project_id=project_id)
    done = asked_first if look else warned
    act = do if told else lambda values: done(project_id, lambda: do(values))
    return handle(form, act, onward, start, project=project, from_today=from_today, **around)


def seen() -> int:
    """The version of what the form changes, as it was when the form was opened."""
    text = request.form.get("seen", "")
    return int(text) if text.isdecimal() and len(text) < 10 else abort(400)


def _done(do: Do, values: Values, then: str) -> str:
    said = do(values)
    return json.dumps([said, then] if isinstance(said, str) else said)


def load(form: Form, positions: Positions) -> Values:
    """The request's form as the schema's values. A blank field is empty or null where the schema allows it."""
    sent, rows = nested(form.schema, {one.name: _sent(form, one) for one in form.fields if one.kind not in _NO_VALUE})
    positions.update(rows)
    loaded: Values = form.schema.load(sent)
    return loaded


_NO_VALUE = ("file", "one_of")


def _sent(form: Form, one: Field) -> Any:
    if one.kind == "picked":
        return one.name in request.form or one.name in request.form.getlist(ONE_OF)
    if one.kind == "yes":
        return one.name in request.form
    field = declared(form.schema, one.name)
    if one.kind == "choices" or (one.kind == "choice" and isinstance(field, fields.List)):
        return [_typed(field, value) for value in dict.fromkeys(request.form.getlist(one.name)) if value]
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
    labels = {one.name: one.label for one in form.fields}
    at_fields = [f"{labels[name]}: {one}" for name, found in errors.items() for one in found if one != message]
    note_refused([*([] if at_fields and message == CHECK else [message]), *apart, *at_fields])
    return _shown(form, typed | _picked(form, typed), errors, " ".join([message, *apart]), status, around)


def placed(form: Form, found: Any) -> Errors:
    """Messages by the field that they stand with; those that belong to none under the empty name."""
    errors: Errors = {}
    for path, message in found:
        errors.setdefault(form.holder_of(path), []).append(plain(message))
    return errors


def _shown(form: Form, typed: Texts, errors: Errors, message: str, status: int, around: Mapping[str, Any]) -> Response:
    return show(
        form.template, status, form=form, typed=typed, errors=errors, message=message, stale=status == 412,
        **{"seen": None, "project": None, "ahead": (), "looked": "", **around},
    )


def _texts(form: Form, start: Mapping[str, Any]) -> Texts:
    """Values as a form holds them: lists of strings."""
    texts = {one.name: _as_texts(value_at(start, one.name)) for one in form.fields}
    return texts | _picked(form, texts)


def _picked(form: Form, typed: Texts) -> dict[str, list[str]]:
    """Which one is picked, as the form says it: by what was chosen, else by what is on."""
    on = [one.name for one in form.fields if one.kind == "picked" and typed.get(one.name)]
    return {one.name: typed.get(one.name) or on for one in form.fields if one.kind == "one_of"}


def _as_texts(value: Any) -> list[str]:
    if value is None or value is False:
        return []
    if value is True:
        return ["on"]
    return [str(one) for one in value] if isinstance(value, list | tuple) else [str(value)]
