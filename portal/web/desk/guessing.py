"""Counts the tries of a password, before any work is done for them; `portal.acts.limits` says how many there may be."""

from dataclasses import dataclass

from portal.acts import limits
from portal.request.browser import known_to
from portal.request.origin import origin
from portal.store.refusals import Refused


@dataclass(frozen=True, slots=True)
class Try:
    """Where one try was counted: names of limits, and whose."""

    counted: tuple[tuple[str, str], ...]

    def was_right(self) -> None:
        """Then it was no guess. Where it is known who it was, those before it were slips of theirs."""
        for limit, whose in self.counted:
            if limit in ("sign_in_account", "sign_in_address"):
                limits.give_back(limit, whose)
            else:
                limits.begin_anew(limit, whose)


def count_try(account: str, now: int) -> Try:
    """Count a try to sign in. Raises TooOften, and then it is counted nowhere."""
    known = known_to(account)
    places = [("sign_in_known", f"{account} {known}")] if known else [
        ("sign_in_here", f"{account} {origin()}"), ("sign_in_address", origin()), ("sign_in_account", account),
    ]  # fmt: skip
    counted: list[tuple[str, str]] = []
    for limit, whose in places:
        try:
            limits.take(limit, whose, now)
        except Refused:
            for before, of in counted:
                limits.give_back(before, of)
            raise
        counted.append((limit, whose))
    return Try(tuple(counted))
