"""Whether those who may read prices are those whom the record says an owner has let."""

from collections.abc import Iterable

from portal.record.checking.facts_in_entries import KeptEntry
from portal.record.verdict import Fault

_TOLD = {"prices_shown": True, "prices_hidden": False}


def check_prices(entries: Iterable[KeptEntry], reading: Iterable[tuple[int, str]], there: Iterable[int]) -> None:
    """Compare with the newest entry about each person. `reading`: id and name of those who may by the tables; `there`:
    the ids of all. Raises Fault."""
    told = {
        entry.content["body"].get("person"): _TOLD[entry.content["kind"]]
        for entry in entries if entry.content["kind"] in _TOLD
    }
    may, known = dict(reading), set(there)
    for person, name in may.items():
        if not told.get(person):
            raise Fault(f"{name} may read prices by the tables, but no owner has said so in the record.")
    for person, shown in told.items():
        if shown and person in known and person not in may:
            raise Fault(f"Person {person} was let read prices, as the record tells, but may not by the tables.")
