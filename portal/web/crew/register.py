"""The pages under a crew's private link, put together."""

from flask import Flask

from portal.web.crew import day, feed
from portal.web.crew.blueprint import blueprint

# Imported for their routes.
_MODULES = (day, feed)


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)
