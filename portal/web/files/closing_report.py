"""The closing report as PDF, for whoever may read the house."""

from flask import Response

from portal import clock
from portal.pages.closing.report import closing_report
from portal.request.sheet_answers import report_answer
from portal.store.facts import Snapshot
from portal.store.reading.finish.moves import moved_finish
from portal.store.reading.project_plan import schedule_of


def closing_report_answer(snapshot: Snapshot) -> Response:
    now = clock.now()
    moved = moved_finish(snapshot, schedule_of(snapshot, now))
    return report_answer(closing_report(snapshot, moved, now), "closing-report")
