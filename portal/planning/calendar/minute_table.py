"""A stretch of the working calendar minute by minute, for questions asked by the million: one look-up an answer."""

import numpy as np
from numpy.typing import NDArray

from portal.planning.calendar.working_calendar import WorkCalendar

Row = NDArray[np.int32]
"""One number a future: work minutes or clock minutes since the stretch begins."""


class Minutes:
    """From the moment at which `first` (a work coordinate) was worked off, as far as it is asked about.

    Work and clock minutes are counted from there, in 32 bits: such tables are read from the processor's cache.
    """

    def __init__(self, calendar: WorkCalendar, first: int) -> None:
        self.calendar = calendar
        self.first = first
        self.begin = calendar.finish_of(first)
        self._all_work = False
        self._work = self._clock = np.zeros(1, np.int32)

    def clock(self, work: Row) -> Row:
        """Clock minutes at which so much work is done. A new row."""
        return np.asarray(self.calendar.finish_at(work + np.int64(self.first)) - self.begin, np.int32)

    def work(self, clock: Row) -> Row:
        """Work minutes done by then. A new row."""
        return np.asarray(self.calendar.work_at(clock + np.int64(self.begin)) - self.first, np.int32)

    def after_wait(self, work: Row, wait: int) -> Row:
        """Work minutes done when a wait by the clock is over that begins when `work` is done. A new row."""
        self._cover(self.calendar.finish_of(self.first + int(work.max())) - self.begin + wait)
        if self._all_work:
            return work + np.int32(wait)
        clock = self._clock.take(work)
        clock += np.int32(wait)
        return self._work.take(clock)

    def instants(self, clock: Row) -> NDArray[np.int64]:
        return clock.astype(np.int64) + self.begin

    def _cover(self, clock: int) -> None:
        """Twice as far as is needed now: who needs this will soon need more."""
        if clock < len(self._work):
            return
        work = self.calendar.work_at(np.arange(self.begin, self.begin + 2 * clock + 1)) - self.first
        finishes = self.calendar.finish_at(np.arange(self.first, self.first + int(work[-1]) + 1)) - self.begin
        self._work, self._clock = work.astype(np.int32), finishes.astype(np.int32)
        # Day and night: work minutes are clock minutes, and no table is needed.
        self._all_work = bool(work[-1] == len(work) - 1)
