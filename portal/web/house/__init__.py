"""A homeowner's private link: the page, the decisions, the record, hand-overs, the way back to paper."""

from flask import Flask

from portal.web.house import decisions, evidence, handovers, paper, reading, sheets
from portal.web.house.blueprint import blueprint

__all__ = ["register"]

# Imported for their routes.
_MODULES = (decisions, evidence, handovers, paper, reading, sheets)


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)
