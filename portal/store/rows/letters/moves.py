"""The sender's moves on a table of letters: each commits by itself, so that what was handed over is known to be,
whatever happens next. Both tables, those to a household and those to our own people, have the columns that they set."""

from portal.store.engine.database import execute, write


class Moves:
    """On the waiting rows of `table`, a name of ours."""

    def __init__(self, table: str) -> None:
        waiting = "WHERE id = ? AND state = 'waiting'"
        self._claim = f"UPDATE {table} SET due_at = ?, tries = tries + 1 {waiting} AND due_at <= ?"
        self._put_back = f"UPDATE {table} SET due_at = ?, tries = tries - 1, trouble = ? {waiting} AND tries > 0"
        self._later = f"UPDATE {table} SET due_at = ?, trouble = ? {waiting}"
        self._give_up = f"UPDATE {table} SET state = ?, trouble = ?, settled_at = ? {waiting}"

    def claim(self, notice_id: int, until: int, now: int) -> bool:
        """Whether the letter is this sender's until then. If it is not settled by then, it is due again."""
        with write():
            return bool(execute(self._claim, until, notice_id, now).rowcount)

    def put_back(self, notice_id: int, due_at: int, trouble: str) -> None:
        """A claim that came to no try: it is due as before."""
        with write():
            execute(self._put_back, due_at, trouble, notice_id)

    def later(self, notice_id: int, due_at: int, trouble: str) -> None:
        """It is tried again then; `trouble`: why."""
        with write():
            execute(self._later, due_at, trouble, notice_id)

    def give_up(self, notice_id: int, state: str, trouble: str, now: int) -> None:
        """For a reason of its own. What was for a household can still be told by phone."""
        with write():
            execute(self._give_up, state, trouble, now, notice_id)
