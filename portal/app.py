"""Puts the application together from its parts."""

import re
from datetime import timedelta
from functools import partial
from typing import Any

from flask import Flask, request
from marshmallow import ValidationError
from werkzeug.exceptions import HTTPException
from werkzeug.middleware.proxy_fix import ProxyFix
from werkzeug.routing import IntegerConverter

from portal import signing
from portal.api.http.problems import problem_for_http, problem_for_invalid, problem_for_refusal
from portal.api.register import register as register_api
from portal.content import cures
from portal.pages.paper.cautions import check_cautions
from portal.pages.publishing.publish import Publisher
from portal.request.services import Services
from portal.settings import Settings
from portal.store.engine.database import listen, stop_listening
from portal.store.engine.opening import open_or_make
from portal.store.refusals import Refused
from portal.web.check import register as register_check
from portal.web.desk.register import register as register_desk
from portal.web.house.register import register as register_house
from portal.web.public import register as register_public
from portal.web.refusing import page_for_http, page_for_refusal

_LARGEST_ID = 2**31 - 1  # that of every database; what is larger is no address
_LARGEST_REQUEST = 90 * 1024 * 1024  # four photos at their largest, and the form around them


class Application(Flask):
    """Flask, but what fails is logged without the link in its address: links are credentials."""

    def log_exception(self, exc_info: Any) -> None:
        where = re.sub(r"^/p/[^/]*", "/p/-", request.path)
        self.logger.error("Exception on %s [%s]", where, request.method, exc_info=exc_info)


def create_app(settings: Settings | None = None, publisher: Publisher | None = None) -> Flask:
    """Make the WSGI application. Opens and migrates the database; pages are published in the background. Raises
    MissingPiece where a caution that sheets print or the table of cure times is not there."""
    settings = settings or Settings.read()
    check_cautions()
    cures()
    open_or_make(settings.database)
    publisher = publisher or Publisher(settings.site, settings.secret)
    stop_listening()
    listen(publisher.soon)
    app = Application(__name__, static_folder=None)
    app.url_map.converters["int"] = partial(IntegerConverter, max=_LARGEST_ID)  # type: ignore[assignment]
    app.config.update(
        SECRET_KEY=signing.session_key(settings.secret),
        MAX_CONTENT_LENGTH=_LARGEST_REQUEST,
        PERMANENT_SESSION_LIFETIME=timedelta(days=14),
        SESSION_COOKIE_NAME="portal",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        SESSION_COOKIE_SECURE=settings.base_url.startswith("https:"),
    )
    if settings.base_url.startswith("https:"):  # then a web server stands in front; its word on the caller counts
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=1, x_proto=1)  # type: ignore[method-assign]
    app.extensions["portal"] = Services(settings, publisher)
    _answer_refusals(app)
    register_api(app)
    register_public(app)
    register_check(app)
    register_house(app)
    register_desk(app)
    return app


def _answer_refusals(app: Flask) -> None:
    """Under /api/ with problem details, elsewhere with a page that says the same."""
    app.register_error_handler(Refused, lambda error: (problem_for_refusal if _of_api() else page_for_refusal)(error))
    app.register_error_handler(HTTPException, lambda error: (problem_for_http if _of_api() else page_for_http)(error))
    app.register_error_handler(ValidationError, problem_for_invalid)


def _of_api() -> bool:
    return request.path.startswith("/api/")
