"""The application over the invented house, and clients that send as one of its people."""

from copy import copy, deepcopy
from functools import cache
from pathlib import Path
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from werkzeug.exceptions import HTTPException
from werkzeug.test import TestResponse

from portal import signing
from portal.api.http.around import around
from portal.api.operations import NAMES, Operation
from portal.app import create_app, with_doors
from portal.pages.publishing.publish import Publisher
from portal.settings import Settings
from portal.store.tables import Token
from tests.house import NOW, SECRET, House, lay_keys


def serve_house(folder: Path, database: str | None = None) -> Flask:
    """The application on the house's database, `folder`/portal.db unless named; pages are published at once."""
    database = database or str(folder / "portal.db")
    settings = Settings.read(
        {"PORTAL_DATA": str(folder), "PORTAL_BASE_URL": "http://localhost", "PORTAL_DATABASE": database}
    )
    if not settings.record_key_file.exists():  # a test may have begun a record before
        lay_keys(folder)
    app = create_app(settings, Publisher(settings.site, SECRET, background=False), _copied(_doors()))
    app.testing = True
    return app


@cache
def _doors() -> Flask:
    """Made once for a test run: to describe and to compile 400 routes takes longer than most tests."""
    return with_doors("http://localhost")


def _copied(doors: Flask) -> Flask:
    """An application of its own: whatever it is told by one test, the next does not hear."""
    app = copy(doors)
    for name, value in vars(doors).items():
        if isinstance(value, dict | list):
            setattr(app, name, copy(value))
    for name in ("before_request_funcs", "after_request_funcs", "error_handler_spec"):
        setattr(app, name, deepcopy(getattr(doors, name)))
    return app


class ApiClient:
    """Sends JSON as one person: `bearer` is a token or a homeowner's link, None for a stranger."""

    def __init__(self, client: FlaskClient, bearer: str | None) -> None:
        self.client = client
        self.bearer = bearer

    def send(self, method: str, path: str, json: Any = None, **headers: str) -> TestResponse:
        sent = {name.replace("_", "-"): value for name, value in headers.items()}
        if self.bearer:
            sent["Authorization"] = f"Bearer {self.bearer}"
        answer = self.client.open(f"/api/v1/{path}", method=method, json=json, headers=sent)
        _check_described(answer, self.client.application)
        return answer

    def get(self, path: str, **headers: str) -> TestResponse:
        return self.send("GET", path, **headers)

    def post(self, path: str, json: Any = None, **headers: str) -> TestResponse:
        return self.send("POST", path, json, **headers)

    def patch(self, path: str, json: Any, **headers: str) -> TestResponse:
        return self.send("PATCH", path, json, **headers)

    def change(self, path: str, json: Any) -> TestResponse:
        """Read, then change with the version that was read."""
        return self.patch(path, json, If_Match=self.get(path).headers["ETag"])


def _check_described(answer: TestResponse, app: Flask) -> None:
    """Each status by which an operation answers or refuses stands in its description."""
    try:
        endpoint, _ = app.url_map.bind("localhost").match(answer.request.path, method=answer.request.method)
    except HTTPException:
        return
    if endpoint not in NAMES:
        return
    view, described = app.view_functions[endpoint], set[int]()
    if answer.status_code >= 400:
        described = set(Operation(endpoint, answer.request.method, around(view)).refusals)
    elif answer.status_code < 300 and answer.request.method != "OPTIONS":
        described = set(view._apidoc["response"]["responses"])  # type: ignore[attr-defined]
    if described:
        assert answer.status_code in described, (endpoint, answer.status_code, answer.get_data(as_text=True))


def bearer_for(house: House, who: str | None) -> str | None:
    """A credential of one of the house's people: manager, office, homeowner, co_owner, other_homeowner, or nobody."""
    if who is None:
        return None
    if who in house.links:
        return house.links[who]
    token = f"token of the {who}"
    Token.get_or_create(digest=signing.digest(token), defaults={"staff": getattr(house, who).id, "made_at": NOW})
    return token


def refused(response: TestResponse, status: int, field: str | None = None) -> dict[str, Any]:
    """Check the one shape of an error (RFC 9457), and return it."""
    assert response.status_code == status, response.get_data(as_text=True)
    assert response.content_type == "application/problem+json"
    problem: dict[str, Any] = response.get_json()
    assert problem["status"] == status
    assert problem["title"] and problem["detail"] and problem["type"]
    assert problem["instance"] == response.request.path
    if field is not None:
        assert problem["field"] == field, problem
        assert all({"detail", "pointer", "field"} <= set(error) for error in problem["errors"])
    return problem
