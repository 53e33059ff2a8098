"""The plan on one sheet at the desk: the same as the household's."""

from flask import Response, redirect, url_for

from portal.store.snapshot import read_snapshot
from portal.web.desk.blueprint import PROJECT, blueprint
from portal.web.plan_sheet import plan_sheet


@blueprint.get(f"{PROJECT}/chart/")
def chart(project_id: int) -> Response:
    return plan_sheet(read_snapshot(project_id))


@blueprint.get(f"{PROJECT}/plan/")
def chart_from_the_page(project_id: int) -> Response:
    """The page is the same bytes at the desk, and its link to the plan leads here."""
    return redirect(url_for("desk.chart", project_id=project_id), 303)  # type: ignore[return-value]
