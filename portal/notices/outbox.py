"""What waits to be sent, and in which order: urgent first, and nothing behind what can't go."""

from collections.abc import Sequence
from typing import TypeVar

from portal.notices.reach import hindrance
from portal.notices.urgency import place
from portal.store.rows import notice_rows
from portal.store.rows.letters import staff_notice_rows
from portal.store.rows.letters.staff_notice_rows import StaffNotice
from portal.store.rows.notice_rows import Notice

N = TypeVar("N", bound=Notice | StaffNotice)


def that_can_go(now: int) -> list[Notice | StaffNotice]:
    """Those due whose reader can be reached by mail; whoever can't does not stand in the way of the others."""
    to_houses = [one for one in notice_rows.due(now) if not hindrance(one, True)]
    return in_order([*to_houses, *staff_notice_rows.due(now)], now)


def in_order(notices: Sequence[N], now: int) -> list[N]:
    """Urgent first; among those alike, who waits longest."""
    return sorted(notices, key=lambda one: (place(one.kind, one.about, now), one.due_at, one.id))


def oldest_due(now: int) -> int | None:
    """Since when the oldest letter has been due that could go out and has not."""
    return min((one.due_at for one in that_can_go(now)), default=None)
