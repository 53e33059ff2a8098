"""Who delivers to the firm, at the desk: the list, adding, changing, dropping."""

from flask import Response, url_for
from marshmallow import fields, validate

from portal import clock
from portal.acts.actor import allow
from portal.acts.visiting.suppliers import add_supplier, change_supplier, drop_supplier, supplier
from portal.api.http.shapes import Strict, email_field, line_field, name_field
from portal.store.rows.household import supplier_rows
from portal.web.desk.blueprint import blueprint, form_page, who
from portal.web.desk.forms import Values, handle, seen
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form

ONE = "/suppliers/<int:supplier_id>"


class SupplierForm(Strict):
    name = name_field(120, required=True)
    phone = line_field(40)
    email = email_field()
    lead_days = fields.Integer(allow_none=True, validate=validate.Range(0, 400))


_FIELDS = [
    Field("name", "Name", required=True),
    Field("phone", "Phone", "phone"),
    Field("lead_days", "Working days from the order to the door", "number",
          hint="As they say. From it follows by when to order; empty: nobody knows."),
    Field("email", "E-mail address", "email"),
]


@blueprint.get("/suppliers/")
def suppliers() -> Response:
    allow(who(), "add_supplier")
    return show("suppliers.html", suppliers=supplier_rows.every())


@form_page("/suppliers/new", "add_supplier")
def new_supplier() -> Response:
    def do(values: Values) -> str:
        return f"{add_supplier(who(), values).name} is on the list."

    return handle(Form("Add a supplier", _FIELDS, SupplierForm(), "Add them"), do, url_for("desk.suppliers"))


@form_page(f"{ONE}/change", "change_supplier")
def edit_supplier(supplier_id: int) -> Response:
    row = supplier(supplier_id)

    def do(values: Values) -> str:
        return f"{change_supplier(who(), supplier_id, seen(), values).name} is changed."

    start = {one.name: getattr(row, one.name) for one in _FIELDS}
    form = Form(f"Change a supplier: {row.name}", _FIELDS, SupplierForm(), "Save them")
    return handle(form, do, url_for("desk.suppliers"), start, seen=row.version)


@form_page(f"{ONE}/drop", "drop_supplier")
def remove_supplier(supplier_id: int) -> Response:
    row = supplier(supplier_id)

    def do(values: Values) -> str:
        drop_supplier(who(), supplier_id, seen(), clock.now())
        return f"{row.name} is off the list. Orders that name them keep the name."

    form = Form(f"Take off the list: {row.name}", [], Strict(), "Take them off")
    return handle(form, do, url_for("desk.suppliers"), seen=row.version)
