"""An entry of each kind, with all that its kind may say: what the hardest record of a house would hold."""

from typing import Any

from portal.record.log.canonical import canonical

_AT = "2026-12-03T15:00:00Z"
_WHY = "The crew is here and the top is not."
_ASKED = {"decision": 4, "question": "Which holes do we drill behind the sink?", "reason": _WHY, "name": "Maren Okafor"}
_VISIT = {"crew": "Stone crew", "purpose": "Set the stone top", "starts_at": _AT, "reason": _WHY}
_PHASE = {"name": "Set the splash tile", "at": "2026-12-02T15:00:00Z", "reason": _WHY, "open": [
    {"kind": "phase", "name": "Set the stone top"}, {"kind": "day_off", "name": ""}]}  # fmt: skip
_ORDER = {"item": "Splash tile", "expected_on": "2026-12-04", "at": "2026-12-02T15:00:00Z", "reason": _WHY}
_PERSON = {"name": "Jonas Okafor", "role": "homeowner", "may_approve": True}
_ITEM = {"item": "A scratch on the door", "room": "Kitchen", "who": "Carpenters", "by": "2026-12-18", "photo": "1.jpg"}
_HANDOVER = {"phase": "Set the stone top", "name": "Maren Okafor", "open": [_ITEM, {"item": "Paint"}],
             "items_until": "2026-12-18", "reason": _WHY, **_ITEM, "before": {"item": "A scratch"}}  # fmt: skip
_NAMES = {"added": ["Set the splash tile", "Grout the splash", "Paint the kitchen"], "removed": ["Hang the hood"]}
_KEYS = {"old_key": "0a" * 32, "new_key": "0b" * 32}

BODIES: dict[str, dict[str, Any]] = {
    **dict.fromkeys(("asked", "question_changed", "answered", "asked_back", "another_option_wanted",
                     "placement_proposed"), _ASKED | {"text": "Can it stay as it is?", "answer": "Yes, it can."}),
    "revised": _ASKED | {"revision": 2},
    "failing_layout_offered": _ASKED | {"title": "Two holes", "failed": ["hole to edge"], "by": "Dana Whitcombe"},
    **dict.fromkeys(("question_withdrawn", "planned_question_dropped"),
                    _ASKED | {"held": ["Set the splash tile"], "hold_lifted": True}),
    "hold_lifted": {"lifted": [{"decision": 4, "name": "Set the splash tile"}]},
    "proposal_settled": _ASKED | {"outcome": "refused"},
    "message_sent": {"room": "Kitchen", "text": "The sink drips.", "photo": "1f0c.jpg"},
    "message_answered": {"text": "The sink drips.", "answer": "We come on Friday."},
    "visit_answered": _VISIT | {"suits": False, "why": "We are away."},
    "approvers_changed": _ASKED | {"approvers": "any"},
    "approved": _ASKED | {
        "title": "Two holes, for faucet and soap dispenser", "revision": 2, "cost_cents": 4500, "days": 1,
        "check_code": "3fa901bc77de" + "0" * 52, "failed": ["hole to edge"], "photos": ["1f0c.jpg"]},
    "withdrawn": _ASKED | {"on_paper": True},
    "consent_given": {}, "consent_withdrawn": {},
    **dict.fromkeys(("released", "release_taken_back", "started", "stopped", "resumed", "inspection_awaited",
                     "finished", "start_taken_back", "stop_taken_back", "inspection_taken_back",
                     "finish_taken_back"), _PHASE),
    **dict.fromkeys(("plan_changed", "rooms_changed", "sizes_changed"), _NAMES),
    **dict.fromkeys(("visit_booked", "visit_moved", "visit_cancelled", "visit_changed"), _VISIT),
    "timezone_changed": {"before": "America/Chicago", "timezone": "America/New_York"},
    **dict.fromkeys(("delivery_ordered", "delivery_changed", "delivery_removed", "order_dropped", "delivery_arrived",
                     "arrival_taken_back"), _ORDER),
    "household_changed": _PERSON | {
        "did": "changed", "may_approve": False, "before": _PERSON | {"name": "J. Okafor"}},
    **dict.fromkeys(("prices_shown", "prices_hidden", "link_made", "link_revoked"), {"name": "Jonas Okafor"}),
    "project_changed": {}, "house_closed": _HANDOVER, "house_opened": _HANDOVER, "house_removed": _HANDOVER,
    "responsible_changed": {"name": "", "staff": None, "before": "Dana Whitcombe"},
    "update_posted": {"photos": ["1f0c.jpg"]}, "update_changed": {}, "update_removed": {}, "call_noted": {},
    "contract_changed": {"cents": 4_860_000},
    **dict.fromkeys(("handed_over", "handover_accepted", "handover_changed", "handover_taken_back", "item_changed",
                     "item_added", "item_closed"), _HANDOVER),
    "key_rotated": _KEYS, "key_lost": _KEYS, "secret_lost": {},
}  # fmt: skip


def one_of_each() -> list[tuple[int, str, bytes]]:
    """As a record has them: sequence, hash, canonical JSON."""
    actor = {"name": "Dana Whitcombe", "role": "manager"}
    return [
        (number, f"{number:064x}", canonical({
            "sequence": number, "kind": kind, "at": _AT, "actor": actor, "body": body, "clock_moved": kind == "asked"}))
        for number, (kind, body) in enumerate(BODIES.items(), 1)
    ]  # fmt: skip
