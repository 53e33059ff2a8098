"""Each operation as an integrator meets it: its name, how it may refuse, what it takes, and OPTIONS."""

import re
import sys
from collections.abc import Iterator
from typing import Any

import pytest
from marshmallow import fields

from portal.api.http.shapes import Strict, YesNo, years
from portal.api.operations import NAMES
from portal.layouts.kinds import KINDS
from portal.words import typed
from tests.api.conftest import As
from tests.house import House
from tests.layouts.test_kinds import EXAMPLES
from tests.served import ApiClient

Spec = dict[str, Any]
METHODS = ("get", "post", "patch", "put", "delete")
BEYOND = "\U0001f6a7"


@pytest.fixture
def spec(sending_as: As) -> Spec:
    described: Spec = sending_as(None).get("openapi.json").get_json()
    return described


def operations(spec: Spec) -> list[Spec]:
    return [held[method] for held in spec["paths"].values() for method in METHODS if method in held]


def test_each_has_a_name_of_its_own_and_says_what_it_does(spec: Spec) -> None:
    names = [one["operationId"] for one in operations(spec)]
    assert sorted(names) == sorted(name for name, _ in NAMES.values()) and len(set(names)) == len(names)
    for one in operations(spec):
        assert one["summary"][0].isupper() and not one["summary"].endswith(".") and len(one["summary"]) < 80


def test_where_it_is_served_is_said(spec: Spec) -> None:
    assert spec["servers"] == [{"url": "http://localhost"}]


def test_each_says_by_which_status_it_refuses_and_how(spec: Spec) -> None:
    for one in operations(spec):
        refusals = {int(status) for status in one["responses"] if status.startswith(("4", "5"))}
        assert {401, 403, 404, 429, 500, 503} <= refusals, one["operationId"]
        for status in refusals:
            name = one["responses"][str(status)]["$ref"].rpartition("/")[2]
            assert list(spec["components"]["responses"][name]["content"]) == ["application/problem+json"]
    by_name = {one["operationId"]: set(one["responses"]) for one in operations(spec)}
    assert {"412", "428"} <= by_name["change_room"] and "428" not in by_name["ask_again"]
    assert {"409", "507"} <= by_name["start_phase"] and not {"409", "507"} & by_name["list_rooms"]


def test_every_list_says_what_is_in_it(spec: Spec) -> None:
    lists = [one for one in within(spec) if one.get("type") == "array" or "array" in as_list(one.get("type"))]
    assert len(lists) > 50 and all("items" in one for one in lists)


def test_a_sheet_comes_as_either_kind_of_file(spec: Spec) -> None:
    sheet = next(one for one in operations(spec) if one["operationId"] == "get_sheet")
    assert set(sheet["responses"]["200"]["content"]) == {"application/pdf", "image/vnd.dxf"}


@pytest.mark.parametrize(("kind", "sent"), [pair for pair in EXAMPLES if pair[0] in KINDS])
def test_a_layout_of_each_kind_is_what_is_described_and_has_every_field_in_common(
    kind: str, sent: Spec, manager: ApiClient, spec: Spec
) -> None:
    answer = manager.post(f"layouts/{kind}?most=3", sent)
    described = spec["components"]["schemas"]["Layout"]["properties"]
    common = {name for name, held in described.items() if "Of layouts of the kind" not in held.get("description", "")}
    for layout in answer.get_json()["layouts"]:
        assert common <= layout.keys() <= described.keys()
        assert all({"name", "from", "at"} == mark.keys() for mark in layout["marks"])
    assert any(layout["marks"] for layout in answer.get_json()["layouts"])


@pytest.mark.parametrize("text", ["Ida", "Zoë O’Hara-Ng", "أحمد", BEYOND, "two words"])
def test_a_text_that_is_taken_fits_what_is_described(text: str) -> None:
    for of_lines in (False, True):
        assert re.search(typed.pattern(of_lines, says_something=True), text)
    assert typed.line(text) and typed.seen(text)


@pytest.mark.parametrize("text", ["\x00", "a\x07b", "a\x7f", "a\ufffeb"])
def test_a_text_that_is_refused_does_not_fit_what_is_described(text: str) -> None:
    for of_lines in (False, True):
        assert not re.search(typed.pattern(of_lines, says_something=False), text)
    with pytest.raises(typed.NotText):
        typed.lines(text)


def test_what_says_nothing_does_not_fit_where_something_must_be_said() -> None:
    for text in ("", "   ", "\u200b\u2060", "\u3164"):
        assert re.search(typed.pattern(False, says_something=False), text)
        assert not re.search(typed.pattern(False, says_something=True), text) and not typed.seen(text)


def test_what_may_be_typed_is_said_of_every_text(spec: Spec) -> None:
    person = spec["components"]["schemas"]["Person"]["properties"]
    assert person["name"]["pattern"] == typed.pattern(False, says_something=True)
    assert all("pattern" in person[name] for name in ("name", "phone", "email"))
    assert re.search(person["email"]["pattern"], "ida@example.org") and re.search(person["email"]["pattern"], "")
    assert not re.search(person["email"]["pattern"], "ida at example.org")
    assert re.search(person["phone"]["pattern"], "218-555-0161") and not re.search(person["phone"]["pattern"], "12")


def test_the_years_that_are_taken_are_said(spec: Spec, manager: ApiClient, house: House) -> None:
    described = spec["components"]["schemas"]["Delivery"]["properties"]["expected_on"]
    first, last = years()[1], years()[-2]
    assert described["description"] == f"In a year from {first} to {last}."
    for year, fits in ((first, True), (last, True), (first - 2, False), (last + 2, False)):
        day = f"{year}-06-30"
        assert bool(re.search(described["pattern"], day)) == fits
        sent = {"item": f"Tile {year}", "expected_on": day}
        assert manager.post(f"projects/{house.project}/deliveries", sent).status_code == (201 if fits else 422)


def test_options_says_which_methods_there_are_to_anyone_and_nothing_else(sending_as: As, house: House) -> None:
    for project in (house.project, 999_999):
        answer = sending_as(None).send("OPTIONS", f"projects/{project}/rooms")
        assert answer.status_code == 204 and not answer.data
        assert set(answer.headers["Allow"].split(", ")) == {"GET", "HEAD", "OPTIONS", "POST"}
        assert "Content-Type" not in answer.headers


def test_every_write_that_may_come_again_takes_a_key(spec: Spec) -> None:
    """Those that make something; what changes a state is done once by itself, and says so when it comes again."""
    for path, held in spec["paths"].items():
        for one in [held["post"]] if "post" in held and "/layouts/" not in path else []:
            keyed = "Idempotency-Key" in {sent["name"] for sent in one.get("parameters", [])}
            assert keyed or "201" not in one["responses"], one["operationId"]


def as_list(found: Any) -> list[Any]:
    return found if isinstance(found, list) else [found]


def within(found: Any) -> Iterator[Spec]:
    """Every object in it, itself too."""
    if isinstance(found, dict):
        yield found
    for inner in found.values() if isinstance(found, dict) else found if isinstance(found, list) else ():
        yield from within(inner)


def test_no_body_takes_a_number_for_yes_or_no() -> None:
    """What is sent as true or false is read by YesNo; a query is text, and only answers go out by the plain field."""
    modules = [sys.modules[name] for name in list(sys.modules) if name.startswith("portal.api.resources")]
    schemas = {one for module in modules for one in vars(module).values()
               if isinstance(one, type) and issubclass(one, Strict) and one is not Strict}
    assert len(schemas) > 40
    assert {
        f"{schema.__name__}.{name}" for schema in schemas for name, field in schema().fields.items()
        if isinstance(field, fields.Boolean) and not field.dump_only and not isinstance(field, YesNo)
    } == {"LayoutsQuery.drawings", "LayoutSchema.ok", "CheckSchema.ok", "CheckSchema.stops", "StarterSchema.own"}
