"""The desk: where the manager and the office work, on a phone on site and with a caller on the line."""

from flask import Flask

from portal.web.desk import door, projects
from portal.web.desk.blueprint import blueprint

__all__ = ["register"]

_MODULES = (door, projects)  # imported for their routes


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)
