"""How often something may be tried: one table of all limits. Beyond one of them, TooOften says how long to wait.

`take` is called before any work is done and anything is written. A limit slows down and never locks: after its `many`
tries at once, one more comes free in every `seconds / many`, whoever tried meanwhile.

Guessing a password is counted three ways. From a browser that has signed in to the account before (it says so by a
signed cookie), by that browser alone: so nobody can shut the owner out by trying (OWASP, Slow Down Online Guessing
Attacks with Device Cookies; ASVS 5.0, 6.1.1). From any other, by account and address, by account, and by address.
"""

import logging
from dataclasses import dataclass

from portal.store.engine import tallies
from portal.store.refusals import Busy, TooOften

log = logging.getLogger("portal.limits")

_MINUTE, _HOUR, _DAY = 60, 3600, 24 * 3600


@dataclass(frozen=True, slots=True)
class Limit:
    """`many` tries within `seconds`, for each of `whose`. `guards`: what can't be counted is refused, too, since it
    keeps somebody out; elsewhere a disk that is full must not keep people from reading."""

    many: int
    seconds: int
    whose: str
    guards: bool = False


LIMITS = {
    "sign_in_known": Limit(10, 10 * _MINUTE, "account and browser that has signed in to it before", guards=True),
    "sign_in_here": Limit(10, 10 * _MINUTE, "account and address", guards=True),
    "sign_in_account": Limit(30, _HOUR, "account, from browsers that never signed in to it", guards=True),
    "sign_in_address": Limit(60, _HOUR, "address", guards=True),
    "own_password": Limit(10, 10 * _MINUTE, "account, asked for its password once more", guards=True),
    "code": Limit(10, _HOUR, "account, with the right password", guards=True),  # 3 of 1,000,000 codes are right
    "recovery_code": Limit(5, _HOUR, "account, with the right password", guards=True),
    "way_in": Limit(30, _HOUR, "address", guards=True),
    "ways_in_made": Limit(20, _HOUR, "member of staff who makes them"),
    "trial_letters": Limit(5, _HOUR, "member of staff who sends them to themselves"),
    "check": Limit(60, _MINUTE, "address"),
    "photos": Limit(60, _DAY, "person of a household"),
    "staff_photos": Limit(1000, _DAY, "member of staff"),
    "left_files": Limit(60, _HOUR, "member of staff whose session has ended"),
    "messages": Limit(20, _DAY, "person of a household"),
    "visit_answers": Limit(60, _DAY, "person of a household"),
    "crew_notes": Limit(60, _DAY, "person of a household"),
    "closing_reports": Limit(30, _HOUR, "person of a household"),
    "own_copies": Limit(10, _HOUR, "person of a household"),
    "links_sent": Limit(5, _HOUR, "person to whom a link is sent"),
    "stop_mail": Limit(30, _HOUR, "person whose mail is stopped or begun again"),
}
"""An address is an IPv4 address or an IPv6 network of 64 bits (`portal.request.origin`)."""

OPEN_QUESTIONS = 20
"""Of one person about one decision, that wait for an answer: counted where they are kept, and free once answered."""
LOOK_AGAIN = _HOUR


def take(limit: str, whose: object, now: int, tries: int = 1) -> None:
    """Count so many tries. Raises TooOften, and Busy where a limit that guards something can't be counted."""
    bound = LIMITS[limit]
    try:
        wait = tallies.count(_of(limit, whose), now, many=bound.many, seconds=bound.seconds, tries=tries)
    except tallies.NotCounted as error:
        log.warning("a try could not be counted", extra={"limit": limit, "reason": str(error)})
        if bound.guards:
            raise Busy() from error
        return
    if wait:
        log.warning("too often", extra={"limit": limit, "wait": wait})
        raise TooOften(retry_after=wait)


def give_back(limit: str, whose: object) -> None:
    """The last try was none: who signed in has not guessed."""
    bound = LIMITS[limit]
    try:
        tallies.give_back(_of(limit, whose), many=bound.many, seconds=bound.seconds)
    except tallies.NotCounted as error:
        log.warning("a try could not be given back", extra={"limit": limit, "reason": str(error)})


def begin_anew(limit: str, whose: object) -> None:
    try:
        tallies.clear(_of(limit, whose))
    except tallies.NotCounted as error:
        log.warning("a limit could not begin anew", extra={"limit": limit, "reason": str(error)})


def _of(limit: str, whose: object) -> str:
    return f"{limit} {whose}"
