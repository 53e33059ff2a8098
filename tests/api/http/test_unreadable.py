"""What can't be read or kept: numbers beyond measure, brackets without end, half characters, a body that is no JSON."""

import pytest
from werkzeug.test import TestResponse

from portal.store.tables import Phase, Room
from tests.house import House
from tests.served import ApiClient, refused

HUGE = 10**30


def _send(manager: ApiClient, path: str, body: bytes, kind: str = "application/json") -> TestResponse:
    headers = {"Authorization": f"Bearer {manager.bearer}"}
    return manager.client.post(f"/api/v1/{path}", data=body, content_type=kind, headers=headers)


@pytest.mark.parametrize("way", ["projects/{}", "projects/7/phases/{}", "projects/7/record/{}/receipt"])
def test_an_id_beyond_measure_is_not_found(manager: ApiClient, way: str) -> None:
    refused(manager.get(way.format(HUGE)), 404)


@pytest.mark.parametrize("query", [f"rooms?page={HUGE}", f"record?after={HUGE}", "rooms?colour=red"])
def test_a_query_that_means_nothing_is_refused(manager: ApiClient, house: House, query: str) -> None:
    refused(manager.get(f"projects/{house.project}/{query}"), 422, query.split("?")[1].split("=")[0])


@pytest.mark.parametrize(
    ("name", "body", "field"),
    [
        ("rooms", {"name": "Pantry", "position": HUGE}, "position"),
        ("rooms", {"name": "Pantry", "position": 2**40}, "position"),
        ("phases", {"name": "Paint", "work_hours": 1, "after": [{"phase": HUGE}]}, "after.0.phase"),
        ("phases", {"name": "Paint", "work_hours": 1, "held_by": [1, HUGE]}, "held_by.1"),
        ("rooms", {"name": "a\ud800"}, "name"),
        ("rooms", {"name": "a\0b"}, "name"),
        ("decisions", {"question": "q", "options": [{"title": "t", "effects": "\udc00"}]}, "options.0.effects"),
    ],
)  # fmt: skip
def test_what_no_table_can_keep_is_named(
    manager: ApiClient, house: House, name: str, body: dict[str, object], field: str
) -> None:
    refused(manager.post(f"projects/{house.project}/{name}", body), 422, field)


def test_a_smile_is_text(manager: ApiClient, house: House) -> None:
    made = _send(manager, f"projects/{house.project}/rooms", b'{"name": "Den \\ud83d\\ude00"}')
    assert (made.status_code, made.get_json()["name"]) == (201, "Den \N{GRINNING FACE}")


@pytest.mark.parametrize("body", [
    b'{"name":' + b"[" * 100_000, b'{"name":' + b"9" * 6000 + b"}", b'{"name":', b'{"name":"\xff"}',
])
def test_a_body_that_is_no_json_is_said_to_be_none(manager: ApiClient, house: House, body: bytes) -> None:
    before = Room.select().count()
    refused(_send(manager, f"projects/{house.project}/rooms", body), 400)
    assert Room.select().count() == before


def test_a_detail_nested_without_end_is_refused(manager: ApiClient, house: House) -> None:
    deep = b'{"question":"q","options":[{"title":"t"}],"detail":' + b'{"a":' * 300 + b"1" + b"}" * 300 + b"}"
    assert "nested" in refused(_send(manager, f"projects/{house.project}/decisions", deep), 422)["errors"][0]["detail"]


def test_a_body_of_another_kind_is_not_passed_over(manager: ApiClient, house: House) -> None:
    """Without its body, this would be a start at this moment."""
    phase = house.phases["floor_grout"]
    start = f"projects/{house.project}/phases/{phase}/start"
    refused(_send(manager, start, b'{"at": "2026-12-01T08:00:00-06:00"}', "text/plain"), 415)
    assert Phase.get_by_id(phase).started_at is None
