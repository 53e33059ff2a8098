"""What each kind of entry says, as one sentence without its subject and without a full stop."""

from collections.abc import Callable
from datetime import date, datetime
from typing import Any

from portal.record.log.heads import key_name
from portal.words.codes import short_code
from portal.words.dates import day_words, local, when_words
from portal.words.lists import listed, quoted
from portal.words.money import money
from portal.words.plurals import counted

Body = dict[str, Any]


def entry_words(entry: dict[str, Any], zone: str) -> str:
    """Say what an entry (its content) tells: `approved “One hole” for decision 1, ...`; a clock that was set back is
    said, too. `zone`: the time zone of the house."""
    say = WORDS.get(entry["kind"])
    words = say(entry["body"], zone) if say else entry["kind"].replace("_", " ")
    if entry.get("clock_moved"):
        words += " (the clock had been set back before this; the number of the entry tells the order)"
    return words


def entry_when(entry: dict[str, Any], zone: str) -> str:
    """Say when an entry was made, by the clock in this time zone: `Wed Dec 2, 7:30 am`."""
    return when_words(_seconds(entry["at"]), zone)


def _seconds(text: str) -> int:
    return int(datetime.fromisoformat(text).timestamp())


def _approved(b: Body, zone: str) -> str:
    cents, days = b.get("cost_cents"), b.get("days")
    more = [f"price {money(cents)}"] if cents else []
    more += [counted(days, "day")] if days else []
    price = f" ({', '.join(more)})" if more else ""
    return (
        f"{_approved_how(b)} “{b['title']}” for decision {b['decision']}{_question(b)}, revision {b['revision']}, "
        f"as {b['name']}{price}{_failing(b)}; check code {short_code(b['check_code'])}"
    )


def _failing(b: Body) -> str:
    return f"; it breaks a rule: {'; '.join(b['failed'])}" if b.get("failed") else ""


def _approved_how(b: Body) -> str:
    if not b.get("on_paper"):
        return "approved"
    dated = f" on {day_words(date.fromisoformat(b['signed_on']))}" if b.get("signed_on") else ""
    return f"entered what {b.get('signer', b['name'])} signed on paper{dated}:"


def _question(b: Body) -> str:
    """Entries of an earlier version name the question by its number alone."""
    return f", {quoted([b['question']])}" if b.get("question") else ""


def _withdrawn(b: Body, zone: str) -> str:
    if b.get("on_paper"):
        return f"took back what had been entered from paper for decision {b['decision']}, as {b['name']}{_because(b)}"
    return f"took back the approval of decision {b['decision']}{_because(b)}"


def _question_withdrawn(b: Body, zone: str) -> str:
    held = quoted(b["held"])
    hold = "may start without it" if b["hold_lifted"] else "stays held"
    words = f"withdrew decision {b['decision']}, {quoted([b['question']])}{_because(b)}"
    return f"{words} ({held} {hold})" if held else words


def _planned_dropped(b: Body, zone: str) -> str:
    held = quoted(b["held"])
    words = f"dropped {quoted([b['question']])}, which the plan wanted asked{_because(b)}"
    return f"{words} ({held} may start without it)" if held else words


def _approvers(b: Body, zone: str) -> str:
    who = {"any": "any one of the household", "all": "all of the household"}.get(b["approvers"])
    return f"changed who must approve decision {b['decision']}: {who or b.get('approver', 'one person')}"


def _household(b: Body) -> str:
    name, may = b["name"], _may(b)
    if b["did"] == "removed":
        return f"removed {name} from the household"
    if b["did"] == "added":
        return f"added {name}, who {may}"
    before = b["before"]
    said = [f"changed the name of {before['name']} to {name}"] if before["name"] != name else []
    said += [f"changed what {name} may do: {name} {may}"] if may != _may(before) else []
    return "; ".join(said) or f"changed who {name} is"


def _may(b: Body) -> str:
    """A designer never approves, whatever else is said."""
    if b["role"] == "designer":
        return "as the designer may propose, but not approve"
    return "may approve" if b["may_approve"] else "may read and ask, but not approve"


def _visit(b: Body, zone: str) -> str:
    day = local(_seconds(b["starts_at"]), zone)
    return f"{b['crew']}, {b['purpose']}, {day_words(day.date())}"


def _because(b: Body) -> str:
    return f": {b['reason']}" if b.get("reason") else ""


def _handover(b: Body) -> str:
    return f"“{b['phase']}”" if b.get("phase") else "the whole project"


def _open(b: Body) -> str:
    return f"; still open: {listed([_item(one) for one in b['open']])}" if b.get("open") else "; nothing is open"


def _item(one: Any) -> str:
    """Before, the record told the text of an item alone."""
    return f"{one['item']}{_about(one)}" if isinstance(one, dict) else str(one)


def _about(item: Body) -> str:
    """` (Kitchen, Carpenters, by Fri Dec 18, with a photo)`, as far as it was said."""
    said = [item[name] for name in ("room", "who") if item.get(name)]
    said += [f"by {day_words(date.fromisoformat(item['by']))}"] if item.get("by") else []
    said += ["with a photo"] if item.get("photo") else []
    return f" ({', '.join(said)})" if said else ""


WORDS: dict[str, Callable[[Body, str], str]] = {
    "asked": lambda b, z: f"asked decision {b['decision']}: “{b['question']}”",
    "revised": lambda b, z: f"changed decision {b['decision']}, revision {b['revision']}: “{b['question']}”",
    "approved": _approved,
    "approvers_changed": _approvers,
    "withdrawn": _withdrawn,
    "question_withdrawn": _question_withdrawn,
    "planned_question_dropped": _planned_dropped,
    "asked_back": lambda b, z: f"asked about decision {b['decision']}: “{b['text']}”",
    "failing_layout_offered": lambda b, z: (
        f"offered {quoted([b['title']])} for decision {b['decision']}{_failing(b)}. {b['by']} wrote why: {b['reason']}"
    ),
    "placement_proposed": lambda b, z: f"proposed for decision {b['decision']}: {quoted([b['layout']])}",
    "answered": lambda b, z: f"answered about decision {b['decision']}: “{b['answer']}”",
    "consent_given": lambda b, z: "agreed to deal with us on a screen, and was told how to do it on paper instead",
    "consent_withdrawn": lambda b, z: "went back to paper",
    "released": lambda b, z: f"let “{b['name']}” start without an approval: {b['reason']}",
    "started": lambda b, z: f"started “{b['name']}” on {when_words(_seconds(b['at']), z)}",
    "finished": lambda b, z: f"finished “{b['name']}” on {when_words(_seconds(b['at']), z)}",
    "stopped": lambda b, z: f"let “{b['name']}” rest{_because(b)}",
    "resumed": lambda b, z: f"went on with “{b['name']}”",
    "inspection_awaited": lambda b, z: f"finished the work of “{b['name']}”, which waits for inspection",
    "visit_booked": lambda b, z: f"booked a visit: {_visit(b, z)}",
    "visit_moved": lambda b, z: f"moved a visit: {_visit(b, z)}",
    "visit_cancelled": lambda b, z: f"cancelled a visit: {_visit(b, z)}",
    "timezone_changed": lambda b, z: (
        f"put the time zone right, from {b['before']} to {b['timezone']}; visits stay at their time by the clock"
    ),
    "delivery_arrived": lambda b, z: f"noted that “{b['item']}” arrived on {when_words(_seconds(b['at']), z)}",
    "household_changed": lambda b, z: _household(b),
    "link_made": lambda b, z: f"made a private link for {b['name']}",
    "link_revoked": lambda b, z: f"revoked the private link of {b['name']}",
    "contract_changed": lambda b, z: f"set the contract amount to {money(b['cents'] or 0)}",
    "handed_over": lambda b, z: f"handed over {_handover(b)}{_open(b)}",
    "handover_accepted": lambda b, z: f"accepted the hand-over of {_handover(b)} as {b['name']}{_open(b)}",
    "item_added": lambda b, z: f"added to what is open of {_handover(b)}: “{b['item']}”{_about(b)}",
    "item_closed": lambda b, z: f"did what was open of {_handover(b)}: {quoted([b['item']])}",
    "key_rotated": lambda b, z: f"changed our key from {key_name(b['old_key'])} to {key_name(b['new_key'])}",
}
