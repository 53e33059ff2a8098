"""Fields that are not plain: what they take, what they keep, and what they say to the rest."""

from datetime import UTC, date, datetime, timedelta
from functools import partial
from types import SimpleNamespace
from typing import Any

import pytest
from freezegun import freeze_time
from marshmallow import Schema, ValidationError, fields

from portal.api.http import shapes
from portal.api.http.shapes import Hours, HouseholdJson, Instant, RowId, Strict, Whole, YesNo
from portal.content import cures
from portal.planning.household.services import read_takes
from tests.house import NOW

TODAY = datetime.fromtimestamp(NOW, UTC)
YEAR = TODAY.year


def one(field: Any) -> Schema:
    return Strict.from_dict({"it": field})()


def load(field: Any, value: Any) -> Any:
    with freeze_time(TODAY):
        return one(field).load({"it": value})["it"]


def said(field: Any, value: Any) -> str:
    """What a field says to a value that it refuses."""
    with pytest.raises(ValidationError) as refused:
        load(field, value)
    messages = refused.value.normalized_messages()["it"]
    assert isinstance(messages, list) and len(messages) == 1
    return str(messages[0])


@pytest.mark.parametrize("sent", [0, 1, "yes", "true", "", []])
def test_yes_is_true_and_nothing_else(sent: object) -> None:
    """Of what a table holds as yes or no, a 0 that went into the wrong place is no answer."""
    assert (load(YesNo(), True), load(YesNo(), False)) == (True, False)
    assert said(YesNo(), sent) == "Not a valid boolean."


class Inner(Strict):
    low = fields.Integer(required=True)
    high = fields.Integer(required=True)


class Outer(Strict):
    id = fields.Integer(dump_only=True)
    inner = Whole(Inner)


def test_what_is_not_known_is_refused_and_what_is_computed_is_said_to_be() -> None:
    with pytest.raises(ValidationError) as refused:
        Outer().load({"id": 7, "colour": "red"})
    assert refused.value.normalized_messages() == {
        "id": ["This is computed. Leave it out."], "colour": ["Unknown field."]
    }  # fmt: skip
    with pytest.raises(ValidationError) as refused:
        Outer(many=True).load([{}, {"id": 7}])
    assert refused.value.normalized_messages() == {1: {"id": ["This is computed. Leave it out."]}}


def test_what_is_sent_whole_is_whole_in_a_change_too() -> None:
    with pytest.raises(ValidationError) as refused:
        Outer(partial=True).load({"inner": {"low": 1}})
    assert set(refused.value.normalized_messages()["inner"]) == {"high"}
    assert Outer(partial=True).load({}) == {}


@pytest.mark.parametrize(
    "field", [shapes.name_field(5), shapes.line_field(5), shapes.note_field(5), shapes.text_field(5)]
)
def test_a_text_is_as_long_as_it_may_be_and_no_longer(field: Any) -> None:
    assert load(field, "fives") == "fives"
    assert "5" in said(field, "sixsix")
    assert said(field, 5) == "Not a valid string."


@pytest.mark.parametrize("blank", [" ", "\u200b", "\u2800 "])
def test_names_and_texts_say_something(blank: str) -> None:
    for field in (shapes.name_field(), shapes.text_field()):
        assert said(field, blank) == "This can’t be blank."
    for field in (shapes.line_field(), shapes.note_field()):
        assert load(field, blank) == blank
        assert load(field, "") == ""


def test_a_line_has_one_line_and_a_text_may_have_several() -> None:
    for field in (shapes.name_field(), shapes.line_field(), shapes.phone_field()):
        assert "line break" in said(field, "two\nlines 123")
    for field in (shapes.text_field(), shapes.note_field()):
        assert load(field, "two\r\nlines") == "two\nlines"
        assert "can’t be seen" in said(field, "a\x07b")


@pytest.mark.parametrize("number", ["218-555-0142", "(218) 555 0142, ext. 7", "112", ""])
def test_a_phone_number_is_taken_as_people_write_it(number: str) -> None:
    assert load(shapes.phone_field(), number) == number


@pytest.mark.parametrize("number", ["call Maren", "12", "none"])
def test_a_phone_number_has_digits(number: str) -> None:
    assert "has digits in it" in said(shapes.phone_field(), number)


def test_an_address_is_one_or_nothing() -> None:
    assert load(shapes.email_field(), " maren@example.org ").strip() == "maren@example.org"
    assert load(shapes.email_field(), "  ") == ""
    for wrong in ("maren", "maren@", "a@example.org, b@example.org", "Maren <maren@example.org>"):
        assert said(shapes.email_field(), wrong)


@pytest.mark.parametrize(("hours", "minutes"), [(0, 0), (6, 360), (1.5, 90), (0.25, 15), (100_000, 6_000_000)])
def test_hours_outside_are_minutes_inside(hours: float, minutes: int) -> None:
    assert load(Hours(), hours) == minutes
    assert one(Hours()).dump({"it": minutes}) == {"it": hours}


@pytest.mark.parametrize("wrong", ["6", True, None, [6]])
def test_hours_are_a_number(wrong: Any) -> None:
    assert said(Hours(), wrong) in ("Give hours as a number, such as 6 or 1.5.", "Field may not be null.")


@pytest.mark.parametrize("wrong", [-0.1, 100_000.1, float("inf"), float("nan")])
def test_hours_are_neither_less_than_none_nor_without_end(wrong: float) -> None:
    assert said(Hours(), wrong) == "Give between 0 and 100000 hours."


def test_whole_hours_are_shown_whole_and_none_as_none() -> None:
    assert isinstance(one(Hours()).dump({"it": 120})["it"], int)
    assert one(Hours()).dump({"it": 100})["it"] == round(100 / 60, 6)
    assert one(Hours()).dump({"it": None}) == {"it": None}


def test_an_instant_has_an_offset_and_is_shown_in_utc() -> None:
    assert load(Instant(), "2026-12-02T07:30:00-06:00") == NOW == load(Instant(), "2026-12-02T13:30:00Z")
    assert one(Instant()).dump({"it": NOW}) == {"it": "2026-12-02T13:30:00Z"}
    assert one(Instant()).dump({"it": None}) == {"it": None}
    assert said(Instant(), "2026-12-02T07:30:00") == "Add the offset, such as -06:00 or Z."


@pytest.mark.parametrize("wrong", ["tomorrow", 1_765_000_000, None, "2026-13-01T00:00:00Z", ""])
def test_what_is_no_time_is_shown_one(wrong: Any) -> None:
    assert said(Instant(), wrong) in ("Give a time such as 2026-12-04T08:00:00-06:00.", "Field may not be null.")


@pytest.mark.parametrize("years", [-25, 0, 25])
def test_a_day_of_a_job_is_near(years: int) -> None:
    assert load(shapes.day_field(), f"{YEAR + years}-06-01") == date(YEAR + years, 6, 1)
    assert load(Instant(), f"{YEAR + years}-06-01T00:00:00Z") > 0


@pytest.mark.parametrize("years", [-26, 26])
def test_a_day_that_is_out_of_reach_is_said_with_those_that_are_not(years: int) -> None:
    words = f"Give a year from {YEAR - 25} to {YEAR + 25}."
    assert said(shapes.day_field(), f"{YEAR + years}-06-01") == words
    assert said(Instant(), f"{YEAR + years}-06-01T00:00:00Z") == words


def test_the_id_of_another_row_is_read_without_fetching_it() -> None:
    class Row:
        room_id = 7

        @property
        def room(self) -> object:
            raise AssertionError("fetched")

    schema = Strict.from_dict({"room": RowId(), "phase": RowId()})()
    assert schema.dump(Row()) == {"room": 7, "phase": None}
    assert schema.dump(SimpleNamespace(room=3, phase_id=9)) == {"room": 3, "phase": 9}


def test_what_a_phase_takes_is_read_and_kept_as_it_was_sent() -> None:
    takes = [{"service": "sink", "until": "done"}]
    assert load(HouseholdJson(partial(read_takes, cures=cures())), takes) == takes
    for wrong in ([{"service": 7}], "sink", [{"service": "sink", "until": "never"}]):
        assert said(HouseholdJson(partial(read_takes, cures=cures())), wrong)


def test_texts_inside_of_plain_json_are_looked_at() -> None:
    assert load(shapes.AnyJson(), {"a": [{"b": "e\u0301"}]}) == {"a": [{"b": "é"}]}
    assert "can’t be seen" in said(shapes.AnyJson(), {"a": [{"b": "\x07"}]})
    assert said(shapes.AnyJson(), ["a"]) == "Not a valid mapping type."


def test_an_hour_ago_and_an_hour_on_are_both_near() -> None:
    for shift in (timedelta(hours=-1), timedelta(hours=1)):
        moment = TODAY + shift
        assert load(Instant(), moment.isoformat()) == int(moment.timestamp())
