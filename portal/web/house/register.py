"""The pages under a private link, put together."""

from flask import Flask

from portal.web.house import (
    calendar_file,
    decisions,
    evidence,
    handovers,
    page,
    paper,
    proposals,
    sheets,
    taking_back,
)
from portal.web.house.blueprint import blueprint

# Imported for their routes.
_MODULES = (calendar_file, decisions, evidence, handovers, paper, proposals, page, sheets, taking_back)


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)
