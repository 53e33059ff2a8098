"""What stands around a view, from the request inwards, and that it stands in an order that works.

Each decorator of a view does one thing and leaves its name on it (`named`). The description tells of the headers by
these names, and a route whose decorators stand in another order is refused when it is made, so at start.
"""

from collections.abc import Callable
from typing import Any

View = Callable[..., Any]

_ORDER: tuple[frozenset[str], ...] = (
    frozenset({"photos_first"}),  # photos made small, text made HTML: before it is the request's turn to write
    frozenset({"idempotent"}),  # keeps a whole answer, and what a request that comes again is answered
    frozenset({"arguments"}),  # a body that can't be read is said before a version that is missing
    frozenset({"needs_version", "takes_version"}),
    frozenset({"response"}),  # makes an answer of the row and the headers that come from inside
    frozenset({"makes", "shows_version", "pages", "reads_on"}),
    frozenset({"warned"}),  # looks at the plan before and after the change itself
)
_RANK = {name: rank for rank, names in enumerate(_ORDER) for name in names}
_REPEATED = {"arguments"}  # of the body and of the query


class WrongOrder(TypeError):
    """A route can't be made of these decorators."""


def named(name: str, run: View, view: View) -> View:
    """Mark `run`, which stands around `view`, as the decorator of this name."""
    run.around = (name, *around(view))  # type: ignore[attr-defined]
    return run


def around(view: View) -> tuple[str, ...]:
    """The names of a view's decorators, the outermost first."""
    names: tuple[str, ...] = getattr(view, "around", ())
    return names


def check_order(where: str, view: View) -> None:
    """Raises WrongOrder for decorators that stand in another order than they work in, or without `response`."""
    names = around(view)
    for outer, inner in zip(names, names[1:], strict=False):
        if _RANK[outer] >= _RANK[inner] and not (outer == inner and inner in _REPEATED):
            raise WrongOrder(f"{where}: {outer} stands around {inner}, where it does not work")
    if "response" not in names:
        raise WrongOrder(f"{where}: without `response`, nothing describes what is answered")
