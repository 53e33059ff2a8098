"""What is taken back, as each act is meant: of the house that `tests.acts.furnished` has furnished."""

from typing import Any

from portal.acts.plan import taking_back
from portal.acts.visiting import deliveries
from tests.house import NOW

_WHY = {"reason": "The wrong row", "now": NOW}

TAKEN_BACK: dict[str, Any] = {
    "take_back_start": lambda actor, f: taking_back.take_back_start(
        actor, f.project, f.house.phases["cabinets"], **_WHY
    ),
    "take_back_stop": lambda actor, f: taking_back.take_back_stop(actor, f.project, f.resting, **_WHY),
    "take_back_finish": lambda actor, f: taking_back.take_back_finish(
        actor, f.project, f.house.phases["rough"], **_WHY
    ),
    "take_back_release": lambda actor, f: taking_back.take_back_release(
        actor, f.project, f.house.phases["grout"], **_WHY
    ),
    "take_back_arrival": lambda actor, f: deliveries.take_back_arrival(
        actor, f.project, f.house.deliveries["faucet"], **_WHY
    ),
}
