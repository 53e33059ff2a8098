"""That an option breaks a rule, and who offers it all the same: said above the choice and wherever it is chosen."""

from collections.abc import Mapping, Sequence
from typing import Any

from portal.layouts.kept_checks import broken_rules, layout_in
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
