"""The plan on one sheet at the desk: the same as the household's."""

from flask import Response

from portal.store.reading.snapshot import read_snapshot
from portal.web.desk.blueprint import PROJECT, blueprint
from portal.web.files.plan_sheet import plan_sheet


@blueprint.get(f"{PROJECT}/chart/")
def chart(project_id: int) -> Response:
    return plan_sheet(read_snapshot(project_id))
