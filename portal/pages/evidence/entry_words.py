"""What each kind of entry says, in short sentences: the first without its subject, the last without a full stop."""

from collections.abc import Callable, Iterator
from datetime import date, datetime
from itertools import groupby
from typing import Any

from portal.pages.undoing.out_of_turn import open_on_record
from portal.pages.undoing.taken_back import TAKEN_BACK, taken_back_on_record
from portal.record.log.heads import key_name
from portal.words.capitals import first_upper
from portal.words.codes import short_code
from portal.words.dates import clock_words, day_words, local, when_words
from portal.words.finishes.finish_words import finish_words
from portal.words.lists import listed, quoted
from portal.words.money import money
from portal.words.plurals import counted
from portal.words.stops import stopped_once

Body = dict[str, Any]


def entry_words(entry: dict[str, Any], zone: str) -> str:
    """Say what an entry (its content) tells: `approved “One hole”. Question 1, revision 1: ...`; a clock that was set
    back is said, too. `zone`: the time zone of the house."""
    say = WORDS.get(entry["kind"])
    return _said(entry, say(_noted(entry), zone) if say else entry["kind"].replace("_", " "))


def entry_words_and_names(entry: dict[str, Any], zone: str) -> tuple[str, list[str]]:
    """The same for a list, where each name that an entry counts up is a line: `changed the rooms`, `Added: “Hall”`."""
    if entry["kind"] not in _COUNTING:
        return entry_words(entry, zone), []
    return _said(entry, _COUNTING[entry["kind"]]), [f"{did}: “{name}”" for did, name in _named(entry["body"])]


def _said(entry: dict[str, Any], words: str) -> str:
    if entry.get("clock_moved"):
        words += ". The clock had been set back before this. The numbers of the entries tell the order"
    return stopped_once(words)


def _noted(entry: dict[str, Any]) -> Body:
    """Its body, and when that was written down."""
    return {**entry["body"], "noted_at": entry.get("at")}


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
    price = listed(([f"price {money(cents)}"] if cents else []) + ([counted(days, "day")] if days else []))
    question = f": {quoted([b['question']])}" if b.get("question") else ""  # an earlier version names its number alone
    return ". ".join(filter(None, (
        f"{_approved_how(b)}{_finish(b)}", f"Question {b['decision']}, revision {b['revision']}{question}",
        f"Signed as {b['name']}", first_upper(price), _failing(b), f"Check code {short_code(b['check_code'])}",
    )))  # fmt: skip


def _finish(b: Body) -> str:
    words = finish_words(b.get("finish"))
    photos = counted(len(b["photos"]), "photo") if b.get("photos") else ""
    said = ", ".join(filter(None, (words, photos)))
    return f" ({said})" if said else ""


def _failing(b: Body) -> str:
    return f"It breaks a rule: {'; '.join(b['failed'])}" if b.get("failed") else ""


def _approved_how(b: Body) -> str:
    chosen = quoted([b["title"]])
    if not b.get("on_paper"):
        return f"approved {chosen}"
    dated = f", {day_words(date.fromisoformat(b['signed_on']))}" if b.get("signed_on") else ""
    return f"entered that {b.get('signer', b['name'])} signed {chosen} on paper{dated}"


def _withdrawn(b: Body, zone: str) -> str:
    if b.get("on_paper"):
        return f"took back the paper signed as {b['name']} for question {b['decision']}{_because(b)}"
    return f"took back the approval of question {b['decision']}{_because(b)}"


def _question_withdrawn(b: Body, zone: str) -> str:
    held = quoted(b["held"])
    hold = "may start without it" if b["hold_lifted"] else "stays held"
    words = f"withdrew question {b['decision']}: {quoted([b['question']])}{_because(b)}"
    return f"{words}. {held} {hold}" if held else words


def _planned_dropped(b: Body, zone: str) -> str:
    held = quoted(b["held"])
    words = f"dropped a question of the plan: {quoted([b['question']])}{_because(b)}"
    return f"{words}. {held} may start without it" if held else words


def _approvers(b: Body, zone: str) -> str:
    who = {"any": "any one of the household", "all": "all of the household"}.get(b["approvers"])
    return f"changed who must approve question {b['decision']}: {who or b.get('approver', 'one person')}"


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
    return f"{day_words(day.date())}. {b['crew']}: {b['purpose'].rstrip('. ')}"


def _named(b: Body) -> Iterator[tuple[str, str]]:
    """What became of which, one after another: `Added`, `Tile`."""
    return ((did.capitalize(), name) for did in ("added", "changed", "removed") for name in b.get(did, []))


def _counting(kind: str) -> Callable[[Body, str], str]:
    """`changed the plan. Added: “Tile” and “Grout”. Removed: “Paint”`."""
    def say(b: Body, zone: str) -> str:
        done = groupby(_named(b), lambda one: one[0])
        return ". ".join([_COUNTING[kind], *(f"{did}: {quoted(name for _, name in found)}" for did, found in done)])
    return say


def _lifted(b: Body, zone: str) -> str:
    said = [f"{quoted([one['name']])} waits no more for question {one['decision']}" for one in b["lifted"]]
    return f"noted that {listed(said)}"


def _ordered(b: Body) -> str:
    return f"{quoted([b['item']])}, due {day_words(date.fromisoformat(b['expected_on']))}"


def _posted(b: Body) -> str:
    return f" with {counted(len(b['photos']), 'photo')}" if b.get("photos") else ""


def _because(b: Body) -> str:
    """Without its own full stop: the sentence that it ends has one."""
    return f". Why: {b['reason'].rstrip('. ')}" if b.get("reason") else ""


def _where(b: Body) -> str:
    return b.get("room") or "the whole house"


def _why(b: Body) -> str:
    return f". Why: “{b['why']}”" if b.get("why") else ""


def _when(b: Body, zone: str) -> str:
    """Nothing where it was written down in the same minute: the entry has its time already."""
    at, noted = _seconds(b["at"]), b["noted_at"]
    return "" if noted and _seconds(noted) // 60 == at // 60 else f" on {when_words(at, zone)}"


def handed_over(b: Body) -> str:
    """`“Drill the holes”`, or that it is all."""
    return f"“{b['phase']}”" if b.get("phase") else "the whole job"


def _open(b: Body) -> str:
    left = listed([item_line(one) for one in b.get("open", [])])
    return f". Left to finish: {left}" if left else ". Nothing is left to finish"


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
    return f". Things can be added until {day_words(date.fromisoformat(b['items_until']))}"


def _list_until(b: Body) -> str:
    return day_words(date.fromisoformat(b["items_until"])) if b.get("items_until") else "it is accepted"


def _nobody(b: Body) -> str:
    return f"named nobody as who runs the job. {b['before']} did until then"


def _contract(b: Body) -> str:
    cents = b.get("cents")
    return f"set the contract amount to {money(cents)}" if cents is not None else "set the contract amount"


def _open_then(b: Body) -> str:
    return open_on_record(b.get("open", []))


def _taken_back(kind: str) -> Callable[[Body, str], str]:
    return lambda b, zone: taken_back_on_record(kind, b.get("name") or b["item"], b["reason"])


_COUNTING = {
    "plan_changed": "changed the plan", "rooms_changed": "changed the rooms",
    "sizes_changed": "changed the sizes we keep",
}
"""What names things one by one."""
_SETTLED = {"taken": "took up", "changed": "took up, changed,", "refused": "did not take up"}
WORDS: dict[str, Callable[[Body, str], str]] = {
    "asked": lambda b, z: f"asked question {b['decision']}: “{b['question']}”",
    "revised": lambda b, z: f"asked question {b['decision']} anew, revision {b['revision']}: “{b['question']}”",
    "approved": _approved,
    "approvers_changed": _approvers,
    "withdrawn": _withdrawn,
    "question_withdrawn": _question_withdrawn,
    "planned_question_dropped": _planned_dropped,
    "question_changed": lambda b, z: f"changed by when, where or what for question {b['decision']} is asked",
    "hold_lifted": _lifted,
    "asked_back": lambda b, z: f"asked about question {b['decision']}: “{b['text']}”",
    "another_option_wanted": lambda b, z: f"wanted another option for question {b['decision']}: “{b['text']}”",
    "failing_layout_offered": lambda b, z: (
        f"offered {quoted([b['title']])} for question {b['decision']}. {_failing(b)}. {b['by']} offers it"
        f"{_because(b)}"
    ),
    "placement_proposed": lambda b, z: f"sent the project manager a draft for question {b['decision']}",
    "proposal_settled": lambda b, z: f"{_SETTLED[b['outcome']]} the draft of {b['name']} for question {b['decision']}",
    "answered": lambda b, z: f"answered about question {b['decision']}: “{b['answer']}”",
    "message_sent": lambda b, z: f"told us, {_where(b)}{', with a photo' if b.get('photo') else ''}: “{b['text']}”",
    "message_answered": lambda b, z: f"answered the message “{b['text']}”: “{b['answer']}”",
    "visit_answered": lambda b, z: (
        f"said that a visit {'suits' if b['suits'] else 'does not suit'}: {_visit(b, z)}{_why(b)}"
    ),
    "consent_given": lambda b, z: "agreed to deal with us on a screen. We told how it goes on paper",
    "consent_withdrawn": lambda b, z: "went back to paper",
    "released": lambda b, z: f"let “{b['name']}” start without an approval{_because(b)}",
    **{kind: _counting(kind) for kind in _COUNTING},
    "started": lambda b, z: f"started “{b['name']}”{_when(b, z)}{_open_then(b)}",
    "finished": lambda b, z: f"finished “{b['name']}”{_when(b, z)}{_open_then(b)}",
    "stopped": lambda b, z: f"let “{b['name']}” rest{_because(b)}",
    "resumed": lambda b, z: f"went on with “{b['name']}”",
    "inspection_awaited": lambda b, z: f"finished the work of “{b['name']}”. It waits for inspection",
    "visit_booked": lambda b, z: f"booked a visit on {_visit(b, z)}",
    "visit_moved": lambda b, z: f"moved a visit to {_visit(b, z)}{_because(b)}",
    "visit_cancelled": lambda b, z: f"called off a visit on {_visit(b, z)}",
    "visit_changed": lambda b, z: f"changed who comes, or what for, on {_visit(b, z)}",
    "timezone_changed": lambda b, z: (
        f"put the time zone right, from {b['before']} to {b['timezone']}. Visits stay at their time by the clock"
    ),
    "delivery_ordered": lambda b, z: f"ordered {_ordered(b)}",
    "delivery_changed": lambda b, z: f"changed the order of {_ordered(b)}{_because(b)}",
    "delivery_removed": lambda b, z: f"removed the order of {quoted([b['item']])}",
    "order_dropped": lambda b, z: f"dropped an order of the plan: {quoted([b['item']])}",
    "delivery_arrived": lambda b, z: f"noted that “{b['item']}” came{_when(b, z)}",
    **{kind: _taken_back(kind) for kind in TAKEN_BACK},
    "household_changed": lambda b, z: _household(b),
    "prices_shown": lambda b, z: f"let {b['name']} read the prices",
    "prices_hidden": lambda b, z: f"had the prices left out again for {b['name']}",
    "link_made": lambda b, z: f"made a private link for {b['name']}",
    "link_revoked": lambda b, z: f"ended the private link of {b['name']}",
    "project_changed": lambda b, z: "changed dates, work hours or the state of the house",
    "house_closed": lambda b, z: f"closed the house{_because(b)}{_open(b)}",
    "house_opened": lambda b, z: f"opened the house again{_because(b)}",
    "house_removed": lambda b, z: f"took the house off all lists{_because(b)}",
    "responsible_changed": lambda b, z: f"named {b['name']} as who runs the job" if b["staff"] else _nobody(b),
    "update_posted": lambda b, z: f"posted an update{_posted(b)}",
    "update_changed": lambda b, z: "changed the words of an update",
    "update_removed": lambda b, z: "removed an update",
    "call_noted": lambda b, z: "noted a call",
    "contract_changed": lambda b, z: _contract(b),
    "handed_over": lambda b, z: f"handed over {handed_over(b)}{_open(b)}{_added_until(b)}",
    "handover_accepted": lambda b, z: f"accepted the hand-over of {handed_over(b)} as {b['name']}{_open(b)}",
    "handover_taken_back": lambda b, z: f"took back the hand-over of {handed_over(b)}{_because(b)}",
    "handover_changed": lambda b, z: f"let the list of {handed_over(b)} grow until {_list_until(b)}",
    "item_added": lambda b, z: f"put on the list of {handed_over(b)}: “{b['item']}”{_about(b)}",
    "item_changed": lambda b, z: (
        f"changed the list of {handed_over(b)}. It was: {item_line(b['before'])}. It is: {item_line(b)}"
    ),
    "item_closed": lambda b, z: f"set right, of {handed_over(b)}: {quoted([b['item']])}",
    "key_rotated": lambda b, z: f"changed our key from {key_name(b['old_key'])} to {key_name(b['new_key'])}",
    "key_lost": lambda b, z: f"lost our key. From here on the key {key_name(b['new_key'])} signs. The lost one does "
                             "not vouch for it",
    "secret_lost": lambda b, z: "lost what private links are made from. The links until then ended",
}
