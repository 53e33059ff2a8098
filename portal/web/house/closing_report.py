"""The closing report under a private link: for owners with sums, for others without."""

from flask import Response

from portal.web.files.closing_report import closing_report_answer
from portal.web.house.blueprint import blueprint, snapshot


@blueprint.get("/closing-report.pdf")
def closing_report() -> Response:
    return closing_report_answer(snapshot())
