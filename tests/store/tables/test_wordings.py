"""Words are kept once for each version, as they were written."""

from portal.store import tables
from tests.house import House
from tests.store.refusing import refused_by_the_database


def test_a_version_is_kept_once_with_its_words(house: House) -> None:
    text = "# Grout\n\n\tCures take a day — 100 % of it.\r\n"
    tables.Wording.create(version="a" * 64, text=text)
    assert tables.Wording.get_by_id("a" * 64).text == text
    with refused_by_the_database("(?i)unique|only added to"):
        tables.Wording.create(version="a" * 64, text="Two days.")
    assert tables.Wording.get_by_id("a" * 64).text == text
