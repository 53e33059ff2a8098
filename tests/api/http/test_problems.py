"""One shape for all that goes wrong (RFC 9457): status, sentence, field, and a way to each fault."""

from typing import Any

import pytest
from flask import Flask, Response
from marshmallow import ValidationError
from werkzeug.exceptions import ImATeapot, MethodNotAllowed, RequestEntityTooLarge, TooManyRequests, UnprocessableEntity

from portal.acts.refusals import Held, NotSignedIn, NotYours
from portal.api.http.problems import problem, problem_for_http, problem_for_invalid, problem_for_refusal
from portal.store.refusals import Busy, FieldRefused, NotFound, Stale


def told(make: Any, *given: Any, **more: Any) -> tuple[Response, dict[str, Any]]:
    with Flask("test").test_request_context("/api/v1/projects/7/rooms"):
        response = make(*given, **more)
    assert response.content_type == "application/problem+json"
    body = response.get_json()
    assert (body["status"], body["instance"]) == (response.status_code, "/api/v1/projects/7/rooms")
    return response, body


def test_a_refusal_says_its_sentence_and_has_an_address_of_its_own() -> None:
    response, body = told(problem_for_refusal, NotYours(who="the manager"))
    assert response.status_code == 403
    assert (body["type"], body["title"]) == ("/problems/not-yours", "Not yours")
    assert body["detail"] == "This is for the manager to do."
    assert "field" not in body and "errors" not in body


def test_a_refused_field_is_named_with_its_pointer() -> None:
    _, body = told(problem_for_refusal, FieldRefused("options.1.detail/x~y", "Give those, too."))
    assert body["field"] == "options.1.detail/x~y"
    assert body["errors"] == [
        {"field": "options.1.detail/x~y", "pointer": "#/options/1/detail~1x~0y", "detail": "Give those, too."}
    ]
    assert body["status"] == 422 and "message" not in body and "field_name" not in body


def test_what_a_refusal_knows_besides_is_told() -> None:
    _, body = told(problem_for_refusal, Held(phase="Drill", until="decision 1 is approved", decisions=[{"id": 5}]))
    assert body["decisions"] == [{"id": 5}] and body["status"] == 409


@pytest.mark.parametrize(
    ("refusal", "status", "header"),
    [
        (NotSignedIn(), 401, ("WWW-Authenticate", "Bearer")), (Busy(), 503, ("Retry-After", "2")),
        (NotFound(what="room"), 404, None), (Stale(what="room"), 412, None),
    ],
)  # fmt: skip
def test_some_say_what_to_do_in_a_header(refusal: Any, status: int, header: tuple[str, str] | None) -> None:
    response, _ = told(problem_for_refusal, refusal)
    assert response.status_code == status
    sent = {name: response.headers[name] for name in ("WWW-Authenticate", "Retry-After") if name in response.headers}
    assert sent == (dict([header]) if header else {})


def test_what_a_schema_refuses_is_told_fault_by_fault() -> None:
    messages = {"options": {1: {"title": ["Missing."]}}, "kind": ["Too long.", "Too loud."], "_schema": ["Not both."]}
    _, body = told(problem_for_invalid, ValidationError(messages))
    assert [(one["field"], one["pointer"], one["detail"]) for one in body["errors"]] == [
        ("options.1.title", "#/options/1/title", "Missing."), ("kind", "#/kind", "Too long."),
        ("kind", "#/kind", "Too loud."), ("", "#", "Not both."),
    ]  # fmt: skip
    assert (body["field"], body["status"], body["type"]) == ("options.1.title", 422, "about:blank")


@pytest.mark.parametrize("place", ["json", "query"])
def test_what_the_reader_refuses_is_told_alike(place: str) -> None:
    error = UnprocessableEntity()
    error.data = {"messages": {place: {"name": ["Too long."]}}}  # type: ignore[attr-defined]
    _, body = told(problem_for_http, error)
    assert (body["field"], body["errors"][0]["detail"]) == ("name", "Too long.")


def test_what_the_web_server_refuses_is_said_in_our_words() -> None:
    response, body = told(problem_for_http, MethodNotAllowed(["GET", "PATCH"]))
    assert body["detail"] == "This address does not take that method."
    assert set(response.headers["Allow"].replace(" ", "").split(",")) == {"GET", "PATCH"}
    _, body = told(problem_for_http, RequestEntityTooLarge())
    assert (body["status"], body["detail"]) == (413, "What was sent is too large: it may have 1 MB, with files 90 MB.")
    response, _ = told(problem_for_http, TooManyRequests(retry_after=30))
    assert response.headers["Retry-After"] == "30"
    _, body = told(problem_for_http, ImATeapot())
    assert (body["status"], body["type"]) == (418, "about:blank") and body["detail"]


def test_without_a_kind_of_its_own_the_status_says_it_all() -> None:
    _, body = told(problem, 404, title="Not Found", detail="Nothing here.")
    assert body["type"] == "about:blank"
    _, body = told(problem, 409, title="Held", detail="Not yet.", code="held", decisions=[])
    assert (body["type"], body["decisions"]) == ("/problems/held", [])
