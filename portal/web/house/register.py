"""The pages under a private link, put together."""

from flask import Flask

from portal.web.house import (
    calendar_file,
    closing_report,
    decisions,
    evidence,
    guide,
    handovers,
    mail,
    page,
    paper,
    prices,
    proposals,
    sheets,
    taking_back,
)
from portal.web.house.blueprint import blueprint
from portal.web.house.telling import crew, messages, suiting

# Imported for their routes.
_MODULES = (
    calendar_file, closing_report, crew, decisions, evidence, guide, handovers, mail, messages, paper, prices,
    proposals, page, sheets, suiting, taking_back,
)  # fmt: skip


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)
