"""How long what was sealed, set or grouted stays out of use: published waits to plan with. The label governs."""

from dataclasses import dataclass

SILICONE_SOURCE = "Dow construction sealant FAQ: static water after 24 h, 48 h when cold or dry"
TILE_SOURCE = "product practice: grout after 24 h, 48 to 72 h for large tile; water on grout after 48 to 72 h"
SEAL_SOURCE = "product practice: seal after about 72 h"


@dataclass(frozen=True, slots=True)
class CureTime:
    """A published wait by its `key`. `hours`: clock hours to plan with, the longest published for the case; `least`:
    the shortest published."""

    key: str
    name: str
    hours: int
    least: int
    source: str


CURE_TIMES: dict[str, CureTime] = {
    gate.key: gate
    for gate in (
        CureTime("silicone", "sealant must cure", 24, 24, SILICONE_SOURCE),
        CureTime("silicone_cold", "sealant must cure, slower when cold or dry", 48, 24, SILICONE_SOURCE),
        CureTime("tile_set", "tile must set before it is grouted", 24, 24, TILE_SOURCE),
        CureTime("tile_set_large", "large tile must set before it is grouted", 72, 48, TILE_SOURCE),
        CureTime("grout_water", "grout must cure before it gets wet", 72, 48, TILE_SOURCE),
        CureTime("grout_seal", "grout must cure before it is sealed", 72, 72, SEAL_SOURCE),
    )
}
