"""The closing report under a private link: for owners with sums, for others without."""

from flask import Response

from portal import clock
from portal.acts.limits import take
from portal.web.files.closing_report import closing_report_answer
from portal.web.house.blueprint import blueprint, reader, snapshot


@blueprint.get("/closing-report.pdf")
def closing_report() -> Response:
    take("closing_reports", reader().key, clock.now())
    return closing_report_answer(snapshot())
