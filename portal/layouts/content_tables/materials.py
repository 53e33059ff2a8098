"""What a top is made of: how it is called, what it weighs, whose limits hold for it, what comes off it when it is cut.

The table stands in content/materials.toml and is read once, when the program starts, as its code is.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from portal.folders import CONTENT
from portal.layouts.content_tables.reading import TableError, entries, exactly
from portal.layouts.form import CHOICE, Blank
from portal.layouts.json_fields import Reader

FILE = CONTENT / "materials.toml"
_FIELDS = {"called": str, "least": int, "most": int, "source": str, "natural": bool, "dust": list}
_FIELD = "material"


@dataclass(frozen=True, slots=True)
class Material:
    """`called`: how it is called in a sentence, such as `stone`. `least`, `most`: its density in kg per cubic meter,
    by `source`. `natural`: the limits that the stone industry publishes hold for it; else its maker's sheet is asked
    for them. `dust`: pieces of content/cautions."""

    name: str
    called: str
    least: int
    most: int
    source: str
    natural: bool
    dust: tuple[str, ...]


def read(text: str) -> dict[str, Material]:
    """Read the table, an entry a material. Raises TableError."""
    return {name: _material(name, entry) for name, entry in entries(FILE, text).items()}


def _material(name: str, entry: Any) -> Material:
    exactly(FILE, name, entry, _FIELDS)
    for field, kind in _FIELDS.items():
        if type(entry[field]) is not kind or (kind is not bool and not entry[field]):
            raise TableError(f"{FILE.name}, {name}.{field}: can't be {entry[field]!r}")
    if entry["least"] > entry["most"]:
        raise TableError(f"{FILE.name}, {name}.least: is more than the most")
    return Material(name, **{**entry, "dust": tuple(entry["dust"])})


MATERIALS = read(FILE.read_text(encoding="utf-8"))
"""Every material by its name, as the form offers it."""

STONE_DUST = "stone_dust"
"""The caution that stands for the dust of any material, until it is known which."""

MATERIAL = Blank(_FIELD, "Material of the top", CHOICE, choices=tuple(MATERIALS),
                 hint="Decides weights, limits and cautions. Empty: the limits of natural stone are taken.")


def read_material(reader: Reader) -> Material | None:
    """Read `material`; None where it is not given."""
    return reader.of(_FIELD, MATERIALS) if reader.has(_FIELD) else None


def called(material: Material | None) -> str:
    """Call it in a sentence; stone, until it is known what it is."""
    return material.called if material else "stone"


def dust_of(cautions: tuple[str, ...], dimensions: Any) -> tuple[str, ...]:
    """Give the cautions of work on a top of the material that these dimensions, as JSON, name: its own dust in place of
    that of stone. Unchanged where they name none."""
    name = dimensions.get(_FIELD) if isinstance(dimensions, Mapping) else None
    material = MATERIALS.get(name) if isinstance(name, str) else None
    if material is None:
        return cautions
    return tuple(piece for each in cautions for piece in (material.dust if each == STONE_DUST else (each,)))
