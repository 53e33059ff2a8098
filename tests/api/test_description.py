"""The API's description: valid OpenAPI 3.1, made from the schemas that validate, with every route in it, and true."""

import re
from collections.abc import Iterator
from typing import Any

from openapi_schema_validator import OAS31Validator
from openapi_spec_validator import validate
from referencing import Registry
from referencing.jsonschema import DRAFT202012
from werkzeug.test import TestResponse

from tests.api.conftest import As
from tests.house import House
from tests.served import ApiClient

Spec = dict[str, Any]
LISTS = ("rooms", "people", "phases", "decisions", "visits", "deliveries", "updates", "calls")


def test_the_description_is_valid_openapi_3_1_and_open_to_all(sending_as: As) -> None:
    spec = _spec(sending_as(None))
    assert spec["openapi"].startswith("3.1")
    validate(spec)


def test_every_route_is_described(sending_as: As) -> None:
    client = sending_as(None)
    rules = {
        rule.rule.replace("<int:", "{").replace(">", "}")
        for rule in client.client.application.url_map.iter_rules()
        if rule.rule.startswith("/api/v1/") and not rule.rule.endswith("openapi.json")
    }
    assert rules == set(_spec(client)["paths"])


def test_ids_begin_with_one(sending_as: As) -> None:
    """So whoever tries what is described tries rows that can be there."""
    paths = _spec(sending_as(None))["paths"].values()
    ids = [one["schema"] for path in paths for one in path.get("parameters", []) if one["in"] == "path"]
    assert len(ids) > 100 and all(one == {"type": "integer", "minimum": 1} for one in ids)


def test_the_schema_that_validates_is_the_one_described(sending_as: As) -> None:
    schemas = _spec(sending_as(None))["components"]["schemas"]
    assert schemas["Phase"]["additionalProperties"] is False
    assert {"work_hours", "after", "held_by", "started_at"} <= set(schemas["Phase"]["properties"])
    assert schemas["Phase"]["properties"]["work_hours"]["type"] == "number"
    assert {"type": "string", "format": "date-time"}.items() <= schemas["Visit"]["properties"]["starts_at"].items()
    assert schemas["Room"]["required"] == ["name"]


def test_what_is_answered_is_what_is_described(manager: ApiClient, homeowner: ApiClient, house: House) -> None:
    spec, project = _spec(manager), f"projects/{house.project}"
    asked = {"revision": 1, "text": "Why two?"}
    assert homeowner.post(f"{project}/decisions/{house.decisions[1]}/questions", asked).status_code == 201
    assert manager.post(f"{project}/calls", {"caller": "Maren", "asked": "When?"}).status_code == 201
    paths = ["projects", project, *(f"{project}/{name}" for name in (*LISTS, "schedule", "tonight", "record"))]
    paths += [f"{project}/decisions/{one}/{what}" for one in house.decisions.values()
              for what in ("approvals", "revisions", "proposals")]
    for path in paths:
        _check(spec, manager.get(path))
    for name in LISTS:
        listed = manager.get(f"{project}/{name}").get_json()
        assert listed, name
        _check(spec, manager.get(f"{project}/{name}/{listed[-1]['id']}"))


def test_an_approval_that_comes_again_is_described(homeowner: ApiClient, house: House) -> None:
    path = f"projects/{house.project}/decisions/{house.decisions[1]}/approvals"
    for status in (201, 200):
        answer = homeowner.post(path, {"revision": 1, "option": "a", "name": house.homeowner.name})
        assert answer.status_code == status
        _check(_spec(homeowner), answer)


def test_refusals_are_described_as_they_are_sent(manager: ApiClient, sending_as: As, house: House) -> None:
    project = f"projects/{house.project}"
    refusals = [
        manager.post("projects", {}), manager.get(f"{project}/rooms/999"), sending_as(None).get("projects"),
        sending_as("office").post(f"{project}/phases/{house.phases['drill']}/start"),
        manager.post(f"{project}/phases/{house.phases['drill']}/start"), manager.get(f"{project}/rooms?page=0"),
    ]
    assert [answer.status_code for answer in refusals] == [422, 404, 401, 403, 409, 422]
    for answer in refusals:
        assert answer.content_type == "application/problem+json"
        _check(_spec(manager), answer)


def test_an_operation_that_wants_the_version_says_so(manager: ApiClient, house: House) -> None:
    for method, path, operation in _operations(_spec(manager)):
        sent = manager.send(method, re.sub(r"\{\w+\}", "1", path).removeprefix("/api/v1/"), {})
        wanted = [one["required"] for one in operation.get("parameters", []) if one["name"] == "If-Match"]
        if sent.status_code == 428:
            assert wanted == [True], (method, path)
        elif sent.status_code < 300:
            assert True not in wanted, (method, path)


def test_headers_are_described_where_they_are_sent(manager: ApiClient, house: House) -> None:
    spec, rooms = _spec(manager), f"projects/{house.project}/rooms"
    kitchen = f"{rooms}/{house.rooms['kitchen']}"
    for answer in (manager.get(rooms), manager.get(kitchen), manager.post(rooms, {"name": "Pantry"})):
        described = _operation(spec, answer)["responses"][str(answer.status_code)]["headers"]
        assert described and set(described) <= set(answer.headers.keys())
    sent = {one["name"] for one in spec["paths"]["/api/v1/projects/{project_id}/rooms"]["post"]["parameters"]}
    assert sent == {"Idempotency-Key"}


def test_how_to_sign_in_and_how_to_send_photos_is_described(sending_as: As) -> None:
    spec = _spec(sending_as(None))
    assert spec["security"] == [{"token": []}]
    assert spec["components"]["securitySchemes"]["token"]["scheme"] == "bearer"
    body = spec["paths"]["/api/v1/projects/{project_id}/updates"]["post"]["requestBody"]["content"]
    assert body["application/json"]["schema"] == {"$ref": "#/components/schemas/Update"}
    assert set(body["multipart/form-data"]["schema"]["properties"]) == {"text", "photos", "caption"}


def _spec(client: ApiClient) -> Spec:
    spec: Spec = client.get("openapi.json").get_json()
    return spec


def _operations(spec: Spec) -> Iterator[tuple[str, str, Spec]]:
    """Those that write, with ids of rows to put in: what they answer to an empty body changes little or nothing."""
    for path, operations in spec["paths"].items():
        for method in ("patch", "delete", "post"):
            if method in operations:
                yield method.upper(), path, operations[method]


def _operation(spec: Spec, answer: TestResponse) -> Spec:
    fits = [path for path in spec["paths"]
            if re.fullmatch(re.sub(r"\{\w+\}", "[0-9]+", path), answer.request.path)]
    found: Spec = spec["paths"][fits[0]][answer.request.method.lower()]
    return found


def _check(spec: Spec, answer: TestResponse) -> None:
    responses = _operation(spec, answer)["responses"]
    response = responses.get(str(answer.status_code), responses["default"])
    if "$ref" in response:
        response = spec["components"]["responses"][response["$ref"].rpartition("/")[2]]
    schema = response["content"][answer.content_type]["schema"]
    registry: Registry[Any] = Registry().with_resource("urn:api", DRAFT202012.create_resource(spec))
    OAS31Validator({"$ref": "urn:api" + _pointer(spec, schema)}, registry=registry).validate(answer.get_json())


def _pointer(spec: Spec, schema: Spec) -> str:
    """Where it stands in the description, so that references in it are found from there."""
    if "$ref" in schema:
        return str(schema["$ref"])
    spec.setdefault("x-checked", []).append(schema)
    return f"#/x-checked/{len(spec['x-checked']) - 1}"
