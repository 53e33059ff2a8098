"""What a manager is warned of, in words: nights without the necessary, the contract's days, work that began ahead."""

from portal.pages.household_words import because_words, missing_words, stretch_words
from portal.planning.conflicts import warnings
from portal.planning.conflicts.warnings import (
    BegunAhead,
    ContractWarning,
    NightWarning,
    PlanWarning,
    PromiseWarning,
)
from portal.planning.household.nights import TELL_DAYS_AHEAD
from portal.words.dates import day_words, moment_words
from portal.words.plurals import counted, spelled


def warning_words(warning: PlanWarning) -> str:
    """Say a warning in a sentence or two. Raises TypeError for one of another class than planning has."""
    if isinstance(warning, NightWarning):
        return _night(warning)
    if isinstance(warning, ContractWarning):
        return _contract(warning)
    if isinstance(warning, PromiseWarning):
        late = counted((warning.finish - warning.on).days, "day")
        return (f"Promised is {day_words(warning.on)}. By the plan as booked, all is done on "
                f"{day_words(warning.finish)}, {late} later.")
    if isinstance(warning, BegunAhead):
        return f"“{warning.name}” has begun, but it follows “{warning.before}”, {_standing(warning)}"
    raise TypeError(f"no words for {type(warning).__name__}")


def _night(warning: NightWarning) -> str:
    one = warning.shortfall
    tell = f"Tell the household by {day_words(one.tell_by)}."
    if warning.late:
        ahead = spelled(TELL_DAYS_AHEAD, "working day")
        tell = f"The household must be told today: it is less than {ahead} ahead."
    why = ", ".join(map(because_words, one.why))
    return f"{stretch_words(one, day_words)} {missing_words(one.kind)}, because of {why}. {tell}"


def _contract(warning: ContractWarning) -> str:
    until = f"the contract can be cancelled until the end of {day_words(warning.until)}"
    if warning.kind == warnings.CONTRACT_ANSWER:
        day = day_words(warning.on)
        return f"Decision {warning.number} is needed by {day}, and {until}. Don’t count on the answer before."
    return f"{warning.item or 'An item'} is on order, and {until}. Make sure that the order can be taken back."


def _standing(warning: BegunAhead) -> str:
    if warning.over is not None:
        return f"and the wait after that is not over before {moment_words(warning.over)}."
    standing = "has not begun" if warning.standing == warnings.NOT_BEGUN else "is not finished"
    return f"which {standing}. Enter what has happened, or change what it follows."
