"""The API's description: valid OpenAPI 3.1, made from the schemas that validate, with every route in it."""

from openapi_spec_validator import validate

from tests.api.conftest import As


def test_the_description_is_valid_openapi_3_1_and_open_to_all(sending_as: As) -> None:
    spec = sending_as(None).get("openapi.json").get_json()
    assert spec["openapi"].startswith("3.1")
    validate(spec)


def test_every_route_is_described(sending_as: As) -> None:
    client = sending_as(None)
    spec = client.get("openapi.json").get_json()
    rules = {
        rule.rule.replace("<int:", "{").replace(">", "}")
        for rule in client.client.application.url_map.iter_rules()
        if rule.rule.startswith("/api/v1/") and not rule.rule.endswith("openapi.json")
    }
    assert rules == set(spec["paths"])


def test_the_schema_that_validates_is_the_one_described(sending_as: As) -> None:
    schemas = sending_as(None).get("openapi.json").get_json()["components"]["schemas"]
    assert schemas["Phase"]["additionalProperties"] is False
    assert {"work_hours", "after", "held_by", "started_at"} <= set(schemas["Phase"]["properties"])
    assert schemas["Room"]["required"] == ["name"]
