"""A kept size goes with its house, the firm's with none; in a house no two things of a sort have one name."""

from typing import Any

from portal.store import tables
from tests.house import House
from tests.store.refusing import refused_by_the_database


def kept(**changed: Any) -> tables.KeptSize:
    top = {"what": "top", "name": "Window wall", "values": {"length": "96 in"}, "source": "Sam, Nov 3"}
    row: tables.KeptSize = tables.KeptSize.create(**(top | changed))
    return row


def test_a_size_comes_back_as_it_was_written(house: House) -> None:
    written = {"length": "2' 3-1/2\"", "density": 2650}
    found = tables.KeptSize.get_by_id(kept(project=house.project, values=written).id)
    assert (found.values, found.version, found.project_id) == (written, 1, house.project)


def test_a_house_has_no_two_tops_of_one_name_but_another_house_and_the_firm_may(house: House) -> None:
    for project in (house.project, house.other_project, None):
        kept(project=project)
    kept(project=house.project, what="sink")
    with refused_by_the_database("(?i)unique"):
        kept(project=house.project)


def test_a_size_goes_with_its_house_and_the_firms_stays(house: House) -> None:
    gone = tables.Project.create(name="Lindqvist porch", address="", timezone="America/Chicago", calendar={},
                                 starts_on="2027-01-11")  # fmt: skip
    kept(project=gone.id)
    firms = kept()
    gone.delete_instance()
    assert [row.id for row in tables.KeptSize.select()] == [firms.id]
