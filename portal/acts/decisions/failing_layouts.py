"""A layout that breaks a rule is not offered. A manager may offer it all the same, with a written reason for each such
option under their name: its `despite`. It is an entry of the record of its own, and is never recommended.

Who offers it and when is set here. The reason stays with an option that is asked again, as long as it fails as it did;
where it fails otherwise, it has to be written anew.
"""

from collections.abc import Mapping
from typing import Any

from portal.acts.actor import Actor, act
from portal.acts.entries import keep
from portal.acts.written import reason_given
from portal.layouts.kept_checks import broken_rules, faults, layout_in
from portal.layouts.layout import Layout
from portal.store.refusals import FieldRefused
from portal.store.tables import Decision, Revision
from portal.words.dates import utc_text
from portal.words.drawn.layout_words import not_offered

Values = dict[str, Any]


def refuse_failing(layout: Layout, field: str) -> None:
    """Raise FieldRefused for a layout that breaks a rule, with what it breaks, by how much, and what would mend it."""
    if layout.failed:
        raise FieldRefused(field, not_offered([(one.sentence, one.lacks) for one in layout.failed], layout.mends))


def as_offered(option: Values, layout: Layout, path: str, before: Values | None) -> Values:
    """Give the option of this layout with the reason that it needs, and no other. `before`: the option of this layout
    as it is asked already. `path`: of the option, for what is refused. Raises FieldRefused."""
    sent, bare = option.get("despite"), {name: value for name, value in option.items() if name != "despite"}
    stood = (before or {}).get("despite")
    if layout.ok:
        if sent and sent != stood:
            raise FieldRefused(f"{path}.despite", "This layout keeps every rule. Leave the reason out.")
        return bare
    if not sent:
        refuse_failing(layout, f"{path}.detail.layout")
    if option.get("recommended"):
        raise FieldRefused(f"{path}.recommended", "A layout that breaks a rule is never recommended.")
    return bare | {"despite": _reason(sent, layout, path, before)}


def without_layout(option: Values, path: str) -> Values:
    """Give an option that is no layout as it was sent. Raises FieldRefused where it has a reason all the same."""
    if option.get("despite"):
        raise FieldRefused(f"{path}.despite", "Only a layout that breaks a rule needs a reason. Leave it out.")
    return {name: value for name, value in option.items() if name != "despite"}


def _reason(sent: Any, layout: Layout, path: str, before: Values | None) -> Values:
    stood, text = (before or {}).get("despite"), sent.get("reason") if isinstance(sent, Mapping) else None
    reason = reason_given(
        f"{path}.despite.reason", text if isinstance(text, str) else "",
        "Say in writing why it is offered all the same. It goes on the record, under your name.",
    )  # fmt: skip
    same = before is not None and faults(layout_in(before)) == faults(layout.to_json())
    if same and isinstance(stood, dict) and stood.get("reason") == reason and sent in (stood, {"reason": reason}):
        return stood
    stale = before is not None and not same and isinstance(stood, dict) and stood.get("reason") == reason
    if stale or set(sent) != {"reason"}:
        message = "It fails otherwise than when this was written, or was not written for it. Write the reason anew."
        raise FieldRefused(f"{path}.despite", message)
    return {"reason": reason}


def under_name(name: str, options: list[Values], now: int) -> list[Values]:
    """Put name and time under each reason that is new."""
    signed = {"by": name, "at": utc_text(now)}
    return [
        {**one, "despite": one["despite"] | signed} if one.get("despite") and "by" not in one["despite"] else one
        for one in options
    ]


@act("offer_failing_layout")
def offer_failing_layout(actor: Actor, project_id: int, decision: Decision, revision: Revision, now: int) -> None:
    """Put each layout of this revision that breaks a rule on the record, with the reason. Within asking it."""
    for option in revision.options:
        if option.get("despite"):
            body = {"decision": decision.number, "revision": revision.number, "option": option["key"],
                    "title": option["title"], "layout": layout_in(option)["key"],
                    "failed": broken_rules(layout_in(option)), **option["despite"]}  # fmt: skip
            keep(actor, project_id, "failing_layout_offered", body, now)


def failing_told(option: Mapping[str, Any]) -> Values:
    """What an approval's entry says of an option that breaks a rule; nothing of any other. An option from before a
    reason had to be written has none: `despite` is null."""
    broken = broken_rules(layout_in(option))
    return {"failed": broken, "despite": option.get("despite")} if broken else {}
