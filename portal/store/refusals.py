"""Refusals that the store itself can give. Each class is one reason, with one sentence for people."""

from collections.abc import Sequence
from typing import Any, ClassVar

from portal.words.plurals import counted


class Refused(Exception):
    """Something was asked that can't be done; nothing has been changed.

    `sentence` is what a person is told, and what the office can read down the phone; its braces are filled
    from the keyword arguments, which also travel to the API's problem details. `status` is the HTTP status
    that means the same (RFC 9110); `wait`, where that is 503: after how many seconds it may be sent again.
    `field` names the input at fault, where there is one.
    """

    status: ClassVar[int] = 409
    sentence: ClassVar[str] = "This can’t be done."
    retry_after: int | None = None
    """After how many seconds it is worth trying again, where that is known (RFC 9110, 10.2.3)."""

    def __init__(self, *, field: str | None = None, **details: Any) -> None:
        self.field = field
        self.others: Sequence[tuple[str, str]] = ()
        self.details = details
        super().__init__(self.sentence.format(**details))

    @property
    def faults(self) -> list[tuple[str, str]]:
        """Each input at fault, with what is wrong with it: `field`, and `others` that are told at once."""
        return [(self.field, str(self.details.get("message", self))), *self.others] if self.field else []

    @classmethod
    def code(cls) -> str:
        """The class's name as a slug, e.g. `not-yours`: the tail of a problem's `type`."""
        return "".join("-" + c.lower() if c.isupper() else c for c in cls.__name__).lstrip("-")


class NotFound(Refused):
    status = 404
    sentence = "There is no such {what} here."


class Stale(Refused):
    status = 412
    sentence = "This {what} was changed by someone else since you opened it. Look at it again, then repeat your change."


class OutOfReach(Refused):
    """A plan whose dates can't be computed could not be shown, nor be put right on a page: so it is not kept."""

    status = 422
    sentence = (
        "The plan would reach further than can be computed: more than 25 years. Nothing was changed. "
        "Look at the dates, the hours, the waits and the working hours."
    )


class Busy(Refused):
    status = 503
    retry_after = 2
    sentence = "Someone else is writing just now. Nothing was changed; please send it again in a moment."


class CannotWrite(Refused):
    status = 507
    sentence = "The server can’t write to its disk, so nothing was changed. Please call the office; try again later."


class DiskFull(CannotWrite):
    sentence = (
        "The server’s disk is full, so nothing was changed. What was published can still be read. Please call the "
        "office; whoever looks after the server has to make room on it."
    )


class ReadOnlyDisk(CannotWrite):
    status = 503
    retry_after = 120
    sentence = (
        "The server’s disk can only be read just now, so nothing was changed. What was published can still be read. "
        "Please call the office; whoever looks after the server has to look at its disk."
    )


class DamagedDatabase(Refused):
    """Or it is no database of ours at all."""

    status = 503
    retry_after = 120
    sentence = (
        "The portal’s database is damaged, so nothing was changed. What was published can still be read. Please call "
        "the office; whoever looks after the server has to stop it, and to restore the newest backup."
    )


class TooOften(Refused):
    """One of the limits of `portal.acts.limits` was reached; `retry_after` seconds later the next try counts again."""

    status = 429
    sentence = "That was too often. Wait {wait}, then try again."

    def __init__(self, *, retry_after: int, field: str | None = None, **details: Any) -> None:
        super().__init__(field=field, wait=wait_words(retry_after), retry_after=retry_after, **details)
        self.retry_after = retry_after


def wait_words(seconds: int) -> str:
    """Rounded up, so that whoever waits as long as it says is let in."""
    for size, word in ((3600, "hour"), (60, "minute")):
        if seconds > 2 * size:
            return counted(-(-seconds // size), word)
    return counted(seconds, "second")


class NoDatabase(Refused):
    """The connection was lost. Had the change just been sent off, it may have been kept."""

    status = 503
    retry_after = 10
    sentence = (
        "The portal can’t reach its database just now. Look in a minute whether your change was kept; "
        "if it was not, please send it again."
    )


class Unfit(Refused):
    status = 422
    sentence = "Something in this is too long or too large, or holds a character that no text has. Nothing was changed."


class NoDriver(Refused):
    status = 500
    sentence = (
        "PORTAL_DATABASE names a PostgreSQL server, but the driver for it is not installed. "
        "In the portal’s checkout, bash deploy/environment installs it; into an environment of your own, there, "
        "pip install '.[postgresql]' does."
    )


class NotDrawn(Refused):
    """What is kept of a drawing has another shape than ours: from old data, or a row that somebody changed."""

    sentence = "This drawing can’t be shown. Ask the office before anything is cut."


class NotAsAsked(Refused):
    """What is kept of a question differs from what its check code stands for: somebody changed a row."""

    sentence = (
        "What is kept of this question is not what was asked. Ask the office before anything is approved or cut."
    )


class FieldRefused(Refused):
    """One field's value can't be used; says which and what to do. `others`: what else can't, by field and message."""

    status = 422
    sentence = "{field_name}: {message}"

    def __init__(self, field: str, message: str, *others: tuple[str, str]) -> None:
        super().__init__(field=field, field_name=field, message=message)
        self.others = others
