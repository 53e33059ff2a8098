"""Puts the application together from its parts."""

import secrets
from datetime import timedelta
from functools import partial
from typing import Any

from flask import Flask, Response, request
from marshmallow import ValidationError
from werkzeug.exceptions import HTTPException
from werkzeug.routing import IntegerConverter

from portal import signing
from portal.acts.firm.sessions import LONGEST
from portal.acts.keeping.own_keys import KeyRefused, keys_refusal
from portal.api.http.problems import problem_for_http, problem_for_invalid, problem_for_refusal
from portal.api.register import register as register_api
from portal.content import cures
from portal.pages.paper.cautions import check_cautions
from portal.pages.publishing.publish import Publisher
from portal.request.browser import cookie_name
from portal.request.counting import begin_counting, count_requests
from portal.request.failing import log_failure, note_failure
from portal.request.files_only import FilesOnly, answer_files_only
from portal.request.heads import set_heads
from portal.request.origin import BehindProxy
from portal.request.sent.bodies import PART_BYTES, PARTS, BoundedRequest
from portal.request.services import Services
from portal.settings import Settings
from portal.store.engine.database import listen, stop_listening
from portal.store.engine.faults import refusal_of
from portal.store.engine.opening import open_or_make
from portal.store.engine.tallies import open_tallies
from portal.store.refusals import Refused
from portal.web.check import register as register_check
from portal.web.crew.register import register as register_crew
from portal.web.desk.register import register as register_desk
from portal.web.house.register import register as register_house
from portal.web.public import register as register_public
from portal.web.refusing import page_for_http, page_for_refusal
from portal.web.stop_mail import register as register_stop_mail
from portal.web.up import begin_looking
from portal.web.up import register as register_up

_LARGEST_ID = 2**31 - 1  # that of every database; what is larger is no address


class Application(Flask):
    """Flask, but what fails is logged with the answer, and without the link in its address: links are credentials."""

    request_class = BoundedRequest

    def log_exception(self, exc_info: Any) -> None:
        note_failure(exc_info[1])


def create_app(
    settings: Settings | None = None, publisher: Publisher | None = None, doors: Flask | None = None
) -> Flask:
    """Make the WSGI application. Opens and migrates the database; pages are published in the background.
    With other keys than those of the database, it serves files and nothing else, and the log says why. Raises
    MissingPiece where a caution that sheets print or the table of cure times is not there. `doors`: what `with_doors`
    has made, for whoever serves many houses one after the other."""
    settings = settings or Settings.read()
    check_cautions()
    cures()
    open_or_make(settings.database)
    refusal = keys_refusal(settings)
    publisher = Publisher(settings.site, None) if refusal else publisher or Publisher(settings.site, settings.secret)
    stop_listening()
    listen(publisher.soon)
    open_tallies(settings.data)
    app = doors or with_doors(settings.base_url)
    if refusal:
        app.logger.error("Only files are served: the keys are not those of the database")
        answer_files_only(app)
    app.config.update(
        SECRET_KEY=secrets.token_bytes(32) if refusal else signing.session_key(settings.secret),
        SESSION_COOKIE_NAME=cookie_name("portal", settings.over_tls),
        SESSION_COOKIE_SECURE=settings.over_tls,
    )
    if settings.over_tls:  # then a web server stands in front; its word on the caller counts
        app.wsgi_app = BehindProxy(app.wsgi_app)  # type: ignore[method-assign]
    app.extensions["portal"] = Services(settings, publisher)
    begin_counting(app, publisher)
    begin_looking(app)
    return app


def with_doors(base_url: str) -> Flask:
    """All routes, which know nothing yet of what they open."""
    app = Application(__name__, static_folder=None)
    app.url_map.converters["int"] = partial(IntegerConverter, max=_LARGEST_ID)  # type: ignore[assignment]
    app.config.update(
        MAX_FORM_PARTS=PARTS,
        MAX_FORM_MEMORY_SIZE=PART_BYTES,
        PERMANENT_SESSION_LIFETIME=timedelta(seconds=LONGEST),
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
    )
    count_requests(app)
    app.after_request(log_failure)
    app.after_request(set_heads)
    _answer_refusals(app)
    register_api(app, base_url)
    register_public(app)
    register_up(app)
    register_check(app)
    register_stop_mail(app)
    register_house(app)
    register_crew(app)
    register_desk(app)
    return app


def _answer_refusals(app: Flask) -> None:
    """Under /api/ with problem details, elsewhere with a page that says the same."""
    app.register_error_handler(Refused, _refused)
    app.register_error_handler(KeyRefused, _wrong_key)
    app.register_error_handler(HTTPException, _failed)
    app.register_error_handler(ValidationError, problem_for_invalid)


def _refused(error: Refused) -> Response:
    note_failure(error)
    return problem_for_refusal(error) if _of_api() else page_for_refusal(error)


def _failed(error: HTTPException) -> Response:
    """Where the disk or the database is at fault, in their own words."""
    cause = getattr(error, "original_exception", None)
    refusal = refusal_of(cause) if cause is not None else None
    if refusal is not None:
        refusal.__cause__ = cause
        return _refused(refusal)
    return problem_for_http(error) if _of_api() else page_for_http(error)


def _wrong_key(error: KeyRefused) -> Response:
    """A key was changed under the running service. Which file is at fault is for its operator alone."""
    note_failure(error)
    refusal = FilesOnly()
    return problem_for_refusal(refusal) if _of_api() else page_for_refusal(refusal)


def _of_api() -> bool:
    return request.path.startswith("/api/")
