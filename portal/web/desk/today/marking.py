"""The second press of a line: that they were told; and that they were not, after all."""

from flask import Response, flash, redirect, request, url_for

from portal import clock
from portal.acts.household.told_matters import mark_told, unmark_told
from portal.acts.refusals import MatterChanged
from portal.web.desk.blueprint import PROJECT, blueprint, who


@blueprint.post(f"{PROJECT}/told/<matter>")
def matter_told(project_id: int, matter: str) -> Response:
    """Pressed twice, it is noted once."""
    try:
        mark_told(who(), project_id, matter=matter, state=request.form.get("state", ""), now=clock.now())
        flash("Noted: they are told. It comes back if it changes.")
    except MatterChanged as changed:
        flash(str(changed))
    return redirect(url_for("desk.every"), 303)  # type: ignore[return-value]


@blueprint.post(f"{PROJECT}/not-told/<matter>")
def matter_not_told(project_id: int, matter: str) -> Response:
    unmark_told(who(), project_id, matter=matter)
    flash("It stands in the list again.")
    return redirect(url_for("desk.every"), 303)  # type: ignore[return-value]
