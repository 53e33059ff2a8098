"""Keeping what is measured once: as it was written, read as the kinds read it, changed only as it was seen."""

from typing import Any

import pytest

from portal.acts.firm.sizes import (
    change_firm_size,
    change_size,
    drop_firm_size,
    drop_size,
    keep_firm_size,
    keep_size,
)
from portal.store.refusals import FieldRefused, NotFound, Stale
from portal.store.tables import KeptSize
from tests.house import NOW, House

TOP = {"what": "top", "name": "Window wall", "values": {"length": "96 in", "splash": None}, "source": "Sam, Nov 3"}


def test_a_house_keeps_its_top_and_another_house_does_not_have_it(house: House) -> None:
    made = keep_size(house.office, house.project, dict(TOP), now=NOW)
    assert (made.project_id, made.values) == (house.project, {"length": "96 in"})
    with pytest.raises(NotFound):
        change_size(house.office, house.other_project, made.id, 1, {"name": "Theirs"}, now=NOW)
    with pytest.raises(NotFound):
        drop_firm_size(house.manager, made.id, 1)
    with pytest.raises(NotFound):
        drop_size(house.office, house.project, keep_firm_size(house.manager, dict(TOP)).id, 1, now=NOW)


def test_a_change_names_the_version_it_saw_and_leaves_the_rest(house: House) -> None:
    made = keep_size(house.office, house.project, dict(TOP), now=NOW)
    changed = change_size(house.manager, house.project, made.id, 1, {"values": {"length": "95 in"}}, now=NOW)
    assert (changed.version, changed.name, changed.values) == (2, "Window wall", {"length": "95 in"})
    with pytest.raises(Stale):
        change_size(house.office, house.project, made.id, 1, {"name": "Long wall"}, now=NOW)
    with pytest.raises(Stale):
        drop_size(house.office, house.project, made.id, 1, now=NOW)
    drop_size(house.office, house.project, made.id, 2, now=NOW)
    assert KeptSize.get_or_none(KeptSize.id == made.id) is None


@pytest.mark.parametrize(("changed", "field", "said"), [
    ({"values": {"length": "1-3"}}, "values.length", "length “1-3” could be"),
    ({"values": {}}, "values", "The values are empty"),
    ({"what": "sink"}, "values.length", "is not a field here"), ({"what": "wall"}, "what", "is nothing that is kept"),
])  # fmt: skip
def test_what_can_not_be_read_is_refused_by_its_field(
    house: House, changed: dict[str, Any], field: str, said: str
) -> None:
    firms = keep_firm_size(house.manager, dict(TOP))
    for write in (
        lambda: keep_size(house.office, house.project, TOP | changed, now=NOW),
        lambda: change_firm_size(house.manager, firms.id, 1, dict(changed)),
    ):
        with pytest.raises(FieldRefused, match=said) as refused:
            write()
        assert refused.value.field == field
    assert KeptSize.select().count() == 1


def test_two_of_one_name_are_refused_in_a_house_and_at_the_firm(house: House) -> None:
    keep_size(house.office, house.project, dict(TOP), now=NOW)
    one = keep_firm_size(house.manager, dict(TOP))
    other = keep_firm_size(house.manager, TOP | {"name": "Island"})
    for write in (
        lambda: keep_size(house.office, house.project, dict(TOP), now=NOW),
        lambda: keep_firm_size(house.manager, dict(TOP)),
        lambda: change_firm_size(house.manager, other.id, 1, {"name": "Window wall"}),
    ):
        with pytest.raises(FieldRefused, match="already") as refused:
            write()
        assert refused.value.field == "name"
    same = change_firm_size(house.manager, one.id, 1, {"name": "Window wall"})
    assert same.version == 2, "its own name is no other's"
