"""What changed between two revisions of a question, in sentences. Pure."""

from typing import Any

from portal.words.lists import listed
from portal.words.money import price_change

Options = list[dict[str, Any]]

_PARTS = {
    "effects": "its effects", "cost_cents": "its price", "days": "its days", "recommended": "our recommendation",
    "cannot_be_undone": "what can’t be undone", "drawing": "its drawing",
    "despite": "why we offer it although it breaks a rule",
}


def what_changed(old_question: str, old: Options, new_question: str, new: Options) -> list[str]:
    """Say what differs between two revisions of a question, a sentence each, in the order of the page: the question,
    options that are no longer offered, then each option as it is now. Options are told apart by their key. Never empty:
    where nothing that is shown differs, it says that a detail does."""
    sentences = []
    if old_question != new_question:
        sentences.append(f"The question is now: “{new_question}”.")
    before, after = _by_key(old), _by_key(new)
    sentences += [f"“{option['title']}” is no longer offered." for key, option in before.items() if key not in after]
    for key, option in after.items():
        sentences += _option_changes(before.get(key), option)
    return sentences or ["A detail of it was changed."]


def _option_changes(old: dict[str, Any] | None, new: dict[str, Any]) -> list[str]:
    if old is None:
        return [f"“{new['title']}” is new."]
    changed = [name for name in _PARTS if _part(old, name) != _part(new, name)]
    price = [f"“{new['title']}” now {price_change(new.get('cost_cents'))}."] if "cost_cents" in changed else []
    if old["title"] != new["title"]:
        return [f"“{old['title']}” became “{new['title']}”.", *price]
    if not changed:
        return []
    return [f"“{new['title']}”: {listed(_PARTS[name] for name in changed)} changed.", *price]


def _part(option: dict[str, Any], name: str) -> Any:
    return (option.get("detail") or {}).get("drawing") if name == "drawing" else option.get(name)


def _by_key(options: Options) -> dict[str, dict[str, Any]]:
    return {option["key"]: option for option in options}
