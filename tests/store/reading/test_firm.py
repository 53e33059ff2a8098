"""The firm, on pages that show no project."""

from portal.store import tables
from portal.store.facts import FirmFact
from portal.store.reading.firm import current_firm
from portal.store.reading.snapshot import read_snapshot
from tests.house import House


def test_it_is_the_one_that_a_project_shows(house: House) -> None:
    assert current_firm() == read_snapshot(house.project).firm
    tables.Firm.update(phone="218-555-0188").execute()
    assert current_firm().phone == "218-555-0188"


def test_before_it_was_first_written_down_there_is_one_without_a_name(house: House) -> None:
    tables.Firm.delete().execute()
    assert current_firm() == FirmFact("", "", "", "", "", [])
