"""Each request is counted when it is answered: by the rule of its route and the class of its status."""

import time

from flask import Flask, Response, current_app, g, request

from portal.pages.publishing.publish import Publisher
from portal.running.figures import Figures

_PARTS = {"/api/": "api", "/desk/": "desk", "/p/": "house", "/c/": "crew"}


def begin_counting(app: Flask, publisher: Publisher) -> None:
    """From nothing; the pages that the application publishes are counted, too."""
    figures = app.extensions["portal figures"] = Figures()
    publisher.told = figures.published


def count_requests(app: Flask) -> None:
    @app.before_request
    def begin() -> None:
        g.begun = time.perf_counter()

    @app.after_request
    def count(response: Response) -> Response:
        figures: Figures = current_app.extensions["portal figures"]
        seconds = time.perf_counter() - g.get("begun", time.perf_counter())
        figures.answered(request.url_rule.rule if request.url_rule else "-", _part(), response.status_code, seconds)
        return response


def _part() -> str:
    return next((part for beginning, part in _PARTS.items() if request.path.startswith(beginning)), "other")
