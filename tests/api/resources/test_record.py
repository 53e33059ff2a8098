"""The record over the API: entries, the signed head, receipts to the byte, and proofs that it only ever grew."""

import json
import re

import pytest

from portal.acts.decisions.asking import ask_again, ask_decision
from portal.record.checking.returned_files import verify_file
from portal.record.checking.verification import verify_growth
from portal.record.log.heads import Head, SignedHead
from portal.record.log.proofs import verify_consistency
from tests.api.conftest import As
from tests.house import NOW, House
from tests.served import ApiClient, refused


@pytest.fixture
def path(house: House) -> str:
    """A record of 7 entries."""
    values = {"question": "How many holes?", "options": [{"title": "One", "key": "a"}, {"title": "Two", "key": "b"}]}
    decision = ask_decision(house.manager, house.project, values, NOW)
    for number in range(6):
        ask_again(
            house.manager, house.project, decision.id, {"question": f"How many holes, all in all? ({number})"},
            NOW + number
        )
    return "projects/7/record"


def signed(answer: dict) -> SignedHead:
    return SignedHead(Head(**answer["head"]), answer["public_key"], answer["signature"])


def test_the_signed_head_covers_every_entry(path: str, homeowner: ApiClient) -> None:
    answer = homeowner.get(path).get_json()
    head = signed(answer["signed_head"])
    assert head.holds and head.head.size == answer["head"]["sequence"] == 7
    assert homeowner.get("projects/7/record?after=7").get_json()["signed_head"] == answer["signed_head"]


def test_links_lead_through_the_whole_record(path: str, homeowner: ApiClient) -> None:
    """RFC 8288: whoever follows `next` to its end has read each entry once."""
    way, read = f"{path}?limit=3", []
    while way:
        answer = homeowner.get(way)
        read += [entry["sequence"] for entry in answer.get_json()["entries"]]
        found = re.search(r'</api/v1/([^>]*)>; rel="next"', answer.headers["Link"])
        way = found[1] if found else ""
        assert len(read) <= 7 and answer.headers["Total-Count"] == "7"
    assert read == [1, 2, 3, 4, 5, 6, 7]
    assert 'rel="next"' not in homeowner.get(f"{path}?after=9").headers["Link"]


def test_without_entries_there_is_no_head(house: House, manager: ApiClient) -> None:
    answer = manager.get("projects/8/record").get_json()
    assert answer == {"entries": [], "head": {"sequence": 0, "hash": None}, "signed_head": None}


def test_a_receipt_is_sent_as_the_file_that_verifies(path: str, homeowner: ApiClient) -> None:
    entries = homeowner.get(path).get_json()["entries"]
    for entry in entries:
        answer = homeowner.get(f"{path}/{entry['sequence']}/receipt")
        assert verify_file(answer.data).ok
        assert json.loads(answer.data)["entry"] == entry["entry"]
    refused(homeowner.get(f"{path}/8/receipt"), 404)


@pytest.mark.parametrize("first", range(8))
def test_each_earlier_head_is_proved_to_be_the_beginning_of_each_later_one(
    path: str, homeowner: ApiClient, first: int
) -> None:
    for second in range(first, 8):
        answer = homeowner.get(f"{path}/consistency?first={first}&second={second}").get_json()
        proof = [bytes.fromhex(line) for line in answer["proof"]]
        roots = [bytes.fromhex(answer[name]) for name in ("first_root", "second_root")]
        assert verify_consistency(first, second, *roots, proof)


def test_heads_kept_by_the_household_are_proved_to_be_extended(path: str, house: House, homeowner: ApiClient) -> None:
    earlier = signed(homeowner.get(path).get_json()["signed_head"])
    ask_decision(house.manager, house.project, {"question": "Which?", "options": [{"title": "A"}]}, NOW + 60)
    later = signed(homeowner.get(path).get_json()["signed_head"])
    answer = homeowner.get(f"{path}/consistency?first=7&second=8").get_json()
    assert verify_growth(earlier, later, [bytes.fromhex(line) for line in answer["proof"]]).ok


@pytest.mark.parametrize(("query", "field"), [
    ("first=1&second=8", "second"), ("first=3&second=2", "first"), ("first=-1&second=2", "first"),
    ("second=2", "first"), ("first=1&second=x", "second"),
])
def test_sizes_that_it_never_had_are_refused_by_name(path: str, homeowner: ApiClient, query: str, field: str) -> None:
    refused(homeowner.get(f"{path}/consistency?{query}"), 422, field)


def test_another_household_finds_nothing(path: str, sending_as: As) -> None:
    for rest in ("", "/1/receipt", "/consistency?first=1&second=2"):
        refused(sending_as("other_homeowner").get(path + rest), 404)
