"""That an option breaks a rule, and who offers it all the same: said above the choice and wherever it is chosen."""

from collections.abc import Mapping, Sequence
from typing import Any

from portal.layouts.checks_today import found_today
from portal.layouts.kept_checks import broken_rules, layout_in
from portal.store.facts import DecisionFact
from portal.words.lists import quoted
from portal.words.plurals import plural


def fails_words(option: Mapping[str, Any]) -> str:
    """Say which rules it breaks, in numbers, who offers it all the same and why. Empty where it breaks none."""
    broken = broken_rules(layout_in(option))
    return f"“{option['title']}” {breaks_words(broken, option.get('despite'))}" if broken else ""


def breaks_words(broken: Sequence[str], despite: Any) -> str:
    """Say the same without its title: `breaks a rule: hole to hole, ...: fails. Dana Whitcombe offers it ...`.
    `despite`: the reason as it is kept; None where it was asked before one had to be written."""
    rules = plural(len(broken), "breaks a rule", "breaks these rules")
    return f"{rules}: {'; '.join(broken)}. {_offered(despite)}"


def _offered(despite: Any) -> str:
    reason, by = (despite.get(name) for name in ("reason", "by")) if isinstance(despite, Mapping) else (None, None)
    if not isinstance(reason, str) or not isinstance(by, str):
        return "Nobody has written why it is offered all the same."
    return f"{by} offers it all the same, and writes: “{reason}”"


def today_words(decision: DecisionFact) -> list[str]:
    """Say of each option what the checks of today find in it that was not said when it was asked. Nothing of a decision
    that is closed: its work has begun."""
    if decision.is_closed:
        return []
    found = ((option, found_today(decision.kind, decision.detail, option)) for option in decision.options)
    return [f"{quoted([option['title']])}: {words}" for option, words in found if words]
