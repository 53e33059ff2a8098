"""What is kept, in the dimensions of a question: put in its place before anything is computed of them."""

from typing import Any

from portal.layouts.kinds import KINDS
from portal.layouts.length import DimensionError
from portal.layouts.sizes.picking import resolved
from portal.store.refusals import FieldRefused
from portal.store.rows import size_rows


def with_kept(project_id: int, kind: str, values: dict[str, Any]) -> dict[str, Any]:
    """Give a question with plain values in the place of each `kept` of its `detail.dimensions`: these are stored.
    Raises FieldRefused with the path of what is not kept, or doesn't fit there."""
    detail = values.get("detail") or {}
    if kind not in KINDS or not isinstance(detail, dict) or detail.get("dimensions") is None:
        return values
    try:
        dimensions = resolved(KINDS[kind].FORM, detail["dimensions"], lambda key: size_rows.find(project_id, key))
    except DimensionError as error:
        raise FieldRefused(f"detail.dimensions.{error.field}", f"{error.field} {error.message}.") from error
    return {**values, "detail": {**detail, "dimensions": dimensions}}
