"""What is measured once, at the desk: the lists of a house and of the firm, keeping, changing and dropping one.

Nothing that was asked changes with them: a question holds the values that it was asked with.
"""

from collections.abc import Callable, Mapping
from typing import Any

from flask import Response, request, url_for
from marshmallow import fields

from portal import clock
from portal.acts.firm.sizes import (
    change_firm_size,
    change_size,
    drop_firm_size,
    drop_size,
    keep_firm_size,
    keep_size,
)
from portal.api.http.shapes import Strict, Whole, line_field, name_field
from portal.layouts.content_tables.usual import USUAL
from portal.layouts.form import CHOICE, COUNT, FLAG, Blank
from portal.layouts.sizes.picking import FIRM, HOUSE, USUAL_SIZES, Size
from portal.layouts.sizes.whats import WHATS
from portal.store.rows import size_rows
from portal.store.rows.editable import in_firm, in_project, project_row
from portal.store.tables import KeptSize
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.forms import Values, handle, project_form, seen
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form

ONE, FIRMS = f"{PROJECT}/sizes/<int:size_id>", "/sizes/<int:firm_size_id>"
_KINDS = {CHOICE: "choice", FLAG: "choice", COUNT: "number"}
_STAYS = "What was asked already stays as it was asked."
_NAME = Field("name", "Name", required=True, hint="As a list and a sentence have it: window wall, kitchen faucet.")


@blueprint.get(f"{PROJECT}/sizes/")
def sizes(project_id: int) -> Response:
    return _list(project_row(project_id))


@blueprint.get("/sizes/")
def firm_sizes() -> Response:
    return _list(None)


@form_page(f"{PROJECT}/sizes/new", "keep_size")
def new_size(project_id: int) -> Response:
    """`?what=`: which thing; without it, those to choose from."""
    what = request.args.get("what", "")
    if what not in WHATS:
        return _list(project_row(project_id))
    here = url_for("desk.sizes", project_id=project_id)
    keeping = _keeping(what, lambda values: keep_size(who(), project_id, values, clock.now()))
    return project_form(_form(what), keeping, project_id, then=here)


@form_page("/sizes/new", "keep_firm_size")
def new_firm_size() -> Response:
    what = request.args.get("what", "")
    if what not in WHATS:
        return _list(None)
    keep = _keeping(what, lambda values: keep_firm_size(who(), values))
    return handle(_form(what), keep, url_for("desk.firm_sizes"))


@form_page(f"{ONE}/change", "change_size")
def edit_size(project_id: int, size_id: int) -> Response:
    row = in_project(KeptSize, project_id, size_id)

    def do(values: Values) -> str:
        change_size(who(), project_id, size_id, seen(), values, now=clock.now())
        return f"“{values['name']}” is changed. {_STAYS}"

    here = url_for("desk.sizes", project_id=project_id)
    return project_form(_form(row.what, row.name), do, project_id, _start(row), then=here, seen=row.version)


@form_page(f"{FIRMS}/change", "change_firm_size")
def edit_firm_size(firm_size_id: int) -> Response:
    row = in_firm(KeptSize, firm_size_id)

    def do(values: Values) -> str:
        change_firm_size(who(), firm_size_id, seen(), values)
        return f"“{values['name']}” is changed. {_STAYS}"

    return handle(_form(row.what, row.name), do, url_for("desk.firm_sizes"), _start(row), seen=row.version)


@form_page(f"{ONE}/drop", "drop_size")
def remove_size(project_id: int, size_id: int) -> Response:
    row = in_project(KeptSize, project_id, size_id)

    def do(values: Values) -> str:
        drop_size(who(), project_id, size_id, seen(), now=clock.now())
        return f"“{row.name}” is no longer kept. {_STAYS}"

    here = url_for("desk.sizes", project_id=project_id)
    return project_form(_dropping(row), do, project_id, then=here, seen=row.version)


@form_page(f"{FIRMS}/drop", "drop_firm_size")
def remove_firm_size(firm_size_id: int) -> Response:
    row = in_firm(KeptSize, firm_size_id)

    def do(values: Values) -> str:
        drop_firm_size(who(), firm_size_id, seen())
        return f"“{row.name}” is no longer kept. {_STAYS}"

    return handle(_dropping(row), do, url_for("desk.firm_sizes"), seen=row.version)


def _list(project: Any) -> Response:
    """The list of a house, or without one that of the firm with what is usual below it."""
    offered = size_rows.offered(project.id if project else None)
    own = [size for size in offered if size.owner == (HOUSE if project else FIRM)]
    lists = [(one.title, [(size, _in_words(size)) for size in own if size.what == what])
             for what, one in WHATS.items()]
    usual = [(one.name, USUAL[one.key]) for one in USUAL_SIZES]
    things = [(what, one.title) for what, one in WHATS.items()]
    return show("sizes.html", project=project, lists=[each for each in lists if each[1]], things=things,
                usual=[] if project else usual)


def _in_words(size: Size) -> str:
    labels = {blank.name: blank.label for blank in WHATS[size.what].fields}
    return "; ".join(f"{labels[name]}: {_text(value).replace('_', ' ')}" for name, value in size.values.items())


def _keeping(what: str, keep: Callable[[Values], KeptSize]) -> Callable[[Values], str]:
    def do(values: Values) -> str:
        return f"“{keep(values | {'what': what}).name}” is kept."

    return do


def _form(what: str, name: str = "") -> Form:
    """The form of a thing to keep, or, with a `name`, to change the one of that name."""
    one = WHATS[what]
    measured = [_field(blank) for blank in one.fields]
    inside = Strict.from_dict({blank.name: _schema_field(blank) for blank in one.fields})
    schema = Strict.from_dict({
        "name": name_field(80, required=True), "source": name_field(80, required=True),
        "values": Whole(inside, load_default=dict),
    })  # fmt: skip
    source = Field("source", "Who measured it, or whose sheet says so", required=True,
                   hint="Such as: Sam, Nov 3; or: its maker’s sheet, 2026.")
    title = f"Change {one.title.lower()}: {name}" if name else f"Keep a size: {one.title.lower()}"
    return Form(title, [_NAME, *measured, source], schema(),
                "Save it" if name else "Keep it",
                intro=f"Write each length with its unit, as on the job: 1-3/8 in, 35 mm. {_STAYS}")


def _field(blank: Blank) -> Field:
    words = [(one, one.replace("_", " ")) for one in (blank.choices or ("yes", "no"))]
    offered = [("", "not said"), *words] if blank.holds in (CHOICE, FLAG) else ()
    return Field(f"values.{blank.name}", blank.label, _KINDS.get(blank.holds, "line"), blank.hint, choices=offered)


def _schema_field(blank: Blank) -> fields.Field[Any]:
    """As it is typed; what it may hold is for the readers of the kinds to say."""
    if blank.holds == FLAG:
        return fields.Boolean(truthy={"yes"}, falsy={"no"}, allow_none=True)
    return fields.Integer(allow_none=True) if blank.holds == COUNT else line_field(80, allow_none=True)


def _dropping(row: KeptSize) -> Form:
    return Form(f"Keep it no longer: {row.name}", [], Strict(), "Keep it no longer", intro=_STAYS)


def _start(row: KeptSize) -> Mapping[str, Any]:
    return {"name": row.name, "source": row.source,
            "values": {name: _text(value) for name, value in row.values.items()}}


def _text(value: Any) -> str:
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)
