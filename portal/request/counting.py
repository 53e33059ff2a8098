"""Each request is counted when it is answered: by the rule of its route and the class of its status."""

import time

from flask import Flask, Response, g, request

from portal.running.figures import Figures

_PARTS = {"/api/": "api", "/desk/": "desk", "/p/": "house", "/c/": "crew"}


def count_requests(app: Flask) -> None:
    """The pages that the application publishes are counted, too."""
    figures = app.extensions["portal figures"] = Figures()
    app.extensions["portal"].publisher.told = figures.published

    @app.before_request
    def begin() -> None:
        g.begun = time.perf_counter()

    @app.after_request
    def count(response: Response) -> Response:
        seconds = time.perf_counter() - g.get("begun", time.perf_counter())
        figures.answered(request.url_rule.rule if request.url_rule else "-", _part(), response.status_code, seconds)
        return response


def _part() -> str:
    return next((part for beginning, part in _PARTS.items() if request.path.startswith(beginning)), "other")
