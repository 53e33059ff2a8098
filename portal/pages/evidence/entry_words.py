"""What each kind of entry says, as one sentence without its subject and without a full stop."""

from collections.abc import Callable
from datetime import date, datetime
from typing import Any

from portal.pages.undoing.out_of_turn import open_on_record
from portal.pages.undoing.taken_back import TAKEN_BACK, taken_back_on_record
from portal.record.log.heads import key_name
from portal.words.codes import short_code
from portal.words.dates import clock_words, day_words, local, when_words
from portal.words.finishes.finish_words import finish_words
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


def entry_at(entry: dict[str, Any]) -> int:
    """When an entry was made, in whole seconds."""
    return _seconds(entry["at"])


def entry_when(entry: dict[str, Any], zone: str) -> str:
    """Say when an entry was made, by the clock in this time zone: `Wed Dec 2, 7:30 am`."""
    return when_words(entry_at(entry), zone)


def entry_day_and_time(entry: dict[str, Any], zone: str) -> str:
    """The same with its year, for what is kept for years: `Wed Dec 2, 2026, 7:30 am`."""
    moment = local(_seconds(entry["at"]), zone)
    return f"{day_words(moment.date())}, {moment.year}, {clock_words(moment)}"


def _seconds(text: str) -> int:
    return int(datetime.fromisoformat(text).timestamp())


def _approved(b: Body, zone: str) -> str:
    cents, days = b.get("cost_cents"), b.get("days")
    more = [f"price {money(cents)}"] if cents else []
    more += [counted(days, "day")] if days else []
    price = f" ({', '.join(more)})" if more else ""
    return (
        f"{_approved_how(b)} “{b['title']}” for decision {b['decision']}{_question(b)}, revision {b['revision']}, "
        f"as {b['name']}{price}{_finish(b)}{_failing(b)}; check code {short_code(b['check_code'])}"
    )


def _finish(b: Body) -> str:
    words = finish_words(b.get("finish"))
    photos = counted(len(b["photos"]), "photo") if b.get("photos") else ""
    said = ", ".join(filter(None, (words, photos)))
    return f" ({said})" if said else ""


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


def _changed(b: Body) -> str:
    """`added “Tile”; removed “Paint”`: what became of which."""
    return "; ".join(f"{did} {quoted(b[did])}" for did in ("added", "changed", "removed") if b.get(did))


def _lifted(b: Body, zone: str) -> str:
    said = [f"decision {one['decision']} holds {quoted([one['name']])} no more" for one in b["lifted"]]
    return f"noted that {listed(said)}"


def _ordered(b: Body) -> str:
    return f"{quoted([b['item']])}, expected {day_words(date.fromisoformat(b['expected_on']))}"


def _posted(b: Body) -> str:
    return f" with {counted(len(b['photos']), 'photo')}" if b.get("photos") else ""


def _because(b: Body) -> str:
    """Without its own full stop: the sentence that it ends has one."""
    return f": {b['reason'].rstrip('. ')}" if b.get("reason") else ""


def _where(b: Body) -> str:
    return b.get("room") or "the whole house"


def _why(b: Body) -> str:
    return f": “{b['why']}”" if b.get("why") else ""


def handed_over(b: Body) -> str:
    """`“Drill the holes”`, or that it is all."""
    return f"“{b['phase']}”" if b.get("phase") else "the whole project"


def _open(b: Body) -> str:
    return f"; still open: {listed([item_line(one) for one in b['open']])}" if b.get("open") else "; nothing is open"


def item_line(one: Any) -> str:
    """An item of a list with what was said of it. Before, the record told its text alone."""
    return f"{one['item']}{_about(one)}" if isinstance(one, dict) else str(one)


def _about(item: Body) -> str:
    """` (Kitchen, Carpenters, by Fri Dec 18, with a photo)`, as far as it was said."""
    said = [item[name] for name in ("room", "who") if item.get(name)]
    said += [f"by {day_words(date.fromisoformat(item['by']))}"] if item.get("by") else []
    said += ["with a photo"] if item.get("photo") else []
    return f" ({', '.join(said)})" if said else ""


def _added_until(b: Body) -> str:
    if not b.get("items_until"):
        return ""
    return f"; things can be added until {day_words(date.fromisoformat(b['items_until']))}"


def _list_until(b: Body) -> str:
    return f": {day_words(date.fromisoformat(b['items_until']))}" if b.get("items_until") else ": until it is accepted"


def _nobody(b: Body) -> str:
    return f"named nobody as who runs the job; {b['before']} did until then"


def _contract(b: Body) -> str:
    cents = b.get("cents")
    return f"set the contract amount to {money(cents)}" if cents is not None else "set the contract amount"


def _open_then(b: Body) -> str:
    return open_on_record(b.get("open", []))


def _taken_back(kind: str) -> Callable[[Body, str], str]:
    return lambda b, zone: taken_back_on_record(kind, b.get("name") or b["item"], b["reason"])


_SETTLED = {"taken": "took up", "changed": "took up, changed,", "refused": "did not take up"}
WORDS: dict[str, Callable[[Body, str], str]] = {
    "asked": lambda b, z: f"asked decision {b['decision']}: “{b['question']}”",
    "revised": lambda b, z: f"changed decision {b['decision']}, revision {b['revision']}: “{b['question']}”",
    "approved": _approved,
    "approvers_changed": _approvers,
    "withdrawn": _withdrawn,
    "question_withdrawn": _question_withdrawn,
    "planned_question_dropped": _planned_dropped,
    "question_changed": lambda b, z: f"changed when, where or what for an answer to decision {b['decision']} is needed",
    "hold_lifted": _lifted,
    "asked_back": lambda b, z: f"asked about decision {b['decision']}: “{b['text']}”",
    "another_option_wanted": lambda b, z: f"wanted another option for decision {b['decision']}: “{b['text']}”",
    "failing_layout_offered": lambda b, z: (
        f"offered {quoted([b['title']])} for decision {b['decision']}{_failing(b)}. {b['by']} wrote why{_because(b)}"
    ),
    "placement_proposed": lambda b, z: f"sent the project manager a draft for decision {b['decision']}",
    "proposal_settled": lambda b, z: f"{_SETTLED[b['outcome']]} the draft of {b['name']} for decision {b['decision']}",
    "answered": lambda b, z: f"answered about decision {b['decision']}: “{b['answer']}”",
    "message_sent": lambda b, z: f"told us, {_where(b)}: “{b['text']}”{' (with a photo)' if b.get('photo') else ''}",
    "message_answered": lambda b, z: f"answered the message “{b['text']}”: “{b['answer']}”",
    "visit_answered": lambda b, z: (
        f"said that a visit {'suits' if b['suits'] else 'does not suit'} ({_visit(b, z)}){_why(b)}"
    ),
    "consent_given": lambda b, z: "agreed to deal with us on a screen, and was told how to do it on paper instead",
    "consent_withdrawn": lambda b, z: "went back to paper",
    "released": lambda b, z: f"let “{b['name']}” start without an approval{_because(b)}",
    "plan_changed": lambda b, z: f"changed the plan: {_changed(b)}",
    "started": lambda b, z: f"started “{b['name']}” on {when_words(_seconds(b['at']), z)}{_open_then(b)}",
    "finished": lambda b, z: f"finished “{b['name']}” on {when_words(_seconds(b['at']), z)}{_open_then(b)}",
    "stopped": lambda b, z: f"let “{b['name']}” rest{_because(b)}",
    "resumed": lambda b, z: f"went on with “{b['name']}”",
    "inspection_awaited": lambda b, z: f"finished the work of “{b['name']}”, which waits for inspection",
    "visit_booked": lambda b, z: f"booked a visit: {_visit(b, z)}",
    "visit_moved": lambda b, z: f"moved a visit: {_visit(b, z)}{_because(b)}",
    "visit_cancelled": lambda b, z: f"cancelled a visit: {_visit(b, z)}",
    "visit_changed": lambda b, z: f"changed who comes, or what for: {_visit(b, z)}",
    "timezone_changed": lambda b, z: (
        f"put the time zone right, from {b['before']} to {b['timezone']}; visits stay at their time by the clock"
    ),
    "delivery_ordered": lambda b, z: f"ordered {_ordered(b)}",
    "delivery_changed": lambda b, z: f"changed the order of {_ordered(b)}{_because(b)}",
    "delivery_removed": lambda b, z: f"removed the order of {quoted([b['item']])}",
    "order_dropped": lambda b, z: f"dropped {quoted([b['item']])}, which the plan wanted ordered",
    "delivery_arrived": lambda b, z: f"noted that “{b['item']}” arrived on {when_words(_seconds(b['at']), z)}",
    **{kind: _taken_back(kind) for kind in TAKEN_BACK},
    "household_changed": lambda b, z: _household(b),
    "prices_shown": lambda b, z: f"let {b['name']} read the prices",
    "prices_hidden": lambda b, z: f"had the prices left out again for {b['name']}",
    "link_made": lambda b, z: f"made a private link for {b['name']}",
    "link_revoked": lambda b, z: f"revoked the private link of {b['name']}",
    "project_changed": lambda b, z: "changed dates, working hours or the state of the project",
    "house_closed": lambda b, z: f"closed the house{_because(b)}{_open(b)}",
    "house_opened": lambda b, z: f"opened the house again{_because(b)}",
    "house_removed": lambda b, z: f"took the house off all lists{_because(b)}",
    "responsible_changed": lambda b, z: f"named {b['name']} as who runs the job" if b["staff"] else _nobody(b),
    "rooms_changed": lambda b, z: f"changed the rooms: {_changed(b)}",
    "sizes_changed": lambda b, z: f"changed the sizes that are kept: {_changed(b)}",
    "update_posted": lambda b, z: f"posted an update{_posted(b)}",
    "update_changed": lambda b, z: "changed the words of an update",
    "update_removed": lambda b, z: "removed an update",
    "call_noted": lambda b, z: "noted a call",
    "contract_changed": lambda b, z: _contract(b),
    "handed_over": lambda b, z: f"handed over {handed_over(b)}{_open(b)}{_added_until(b)}",
    "handover_accepted": lambda b, z: f"accepted the hand-over of {handed_over(b)} as {b['name']}{_open(b)}",
    "handover_taken_back": lambda b, z: f"took back the hand-over of {handed_over(b)}{_because(b)}",
    "handover_changed": lambda b, z: f"set until when the list of {handed_over(b)} can grow{_list_until(b)}",
    "item_added": lambda b, z: f"added to what is open of {handed_over(b)}: “{b['item']}”{_about(b)}",
    "item_changed": lambda b, z: (
        f"changed what is open of {handed_over(b)}: {item_line(b['before'])} became {item_line(b)}"
    ),
    "item_closed": lambda b, z: f"did what was open of {handed_over(b)}: {quoted([b['item']])}",
    "key_rotated": lambda b, z: f"changed our key from {key_name(b['old_key'])} to {key_name(b['new_key'])}",
    "key_lost": lambda b, z: f"lost our key; from here on the key {key_name(b['new_key'])} signs, for which the "
                             "lost one does not vouch",
    "secret_lost": lambda b, z: "lost what private links are made from; the links until then ended",
}
