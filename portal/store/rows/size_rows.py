"""What is kept of things that are measured once: a house's own, and the firm's for every house."""

from typing import Any

from portal.layouts.sizes.picking import FIRM, HOUSE, USUAL_SIZES, Size
from portal.store.tables import KeptSize


def offered(project_id: int | None) -> list[Size]:
    """All that may be picked for a house: its own first, then the firm's, then what is usual; without a house, the
    firm's and what is usual."""
    own = [] if project_id is None else list(_of(KeptSize.project == project_id))
    return [*map(_size, own), *map(_size, _of(KeptSize.project.is_null())), *USUAL_SIZES]


def find(project_id: int | None, key: str) -> Size | None:
    """What may be picked for this house under a key: the id of a kept size, or the use of a usual one. None where there
    is none, or another house's."""
    return next((size for size in offered(project_id) if size.key == key), None)


def firms_page(offset: int, limit: int) -> tuple[list[KeptSize], int]:
    rows = _of(KeptSize.project.is_null())
    return list(rows.offset(offset).limit(limit)), rows.count()


def firm_has(what: str, name: str, besides: int) -> bool:
    """Whether the firm keeps another one under this name. The index tells a house's apart; of rows without a project
    it takes no two for the same."""
    same = (KeptSize.what == what) & (KeptSize.name == name) & (KeptSize.id != besides)
    return bool(KeptSize.select().where(KeptSize.project.is_null() & same).exists())


def _of(whose: Any) -> Any:
    return KeptSize.select().where(whose).order_by(KeptSize.what, KeptSize.name, KeptSize.id)


def _size(row: KeptSize) -> Size:
    owner = FIRM if row.project_id is None else HOUSE
    return Size(str(row.id), row.what, row.name, row.values, row.source, owner)
