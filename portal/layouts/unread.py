"""What stands for a value that is at fault, so that all else is read on and nothing is said of what depends on it."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import Any, TypeVar

T = TypeVar("T")


class Depends(Exception):
    """What was asked depends on a value that is at fault."""


class _Unread:
    """May be kept like any value, and named in a sentence on something else; whoever asks anything of it is told that
    the answer depends on it."""

    def _depends(self, *asked: Any) -> Any:
        raise Depends

    def __str__(self) -> str:
        return "…"

    __getattr__ = __getitem__ = __iter__ = __bool__ = __hash__ = _depends
    __eq__ = __ne__ = __lt__ = __le__ = __gt__ = __ge__ = _depends
    __add__ = __radd__ = __sub__ = __rsub__ = __mul__ = __rmul__ = __truediv__ = _depends


UNREAD: Any = _Unread()


def known(make: Callable[[], T], otherwise: Any = UNREAD) -> T:
    """Give what is made; `otherwise` where that depends on a value that is at fault."""
    try:
        return make()
    except Depends:
        found: T = otherwise
        return found


def some(found: Callable[[T], bool], among: Iterable[T]) -> bool:
    """Say whether it holds for any of these, as far as that is known."""
    return any(known(partial(found, one), False) for one in among)
