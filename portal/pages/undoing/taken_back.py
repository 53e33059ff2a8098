"""What is said of something that is taken back, in one place: on the record, at the desk, in letters, by phone."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TakenBack:
    """`row`: what one says to take it back, on the row that opens. `done`: what holds then. `record`: what was done, as
    an entry of the record says it. `what` stands for the phase or the item."""

    row: str
    done: str
    record: str


TAKEN_BACK: dict[str, TakenBack] = {
    "start_taken_back": TakenBack("It did not start", "has not started", "took back that “{what}” had started"),
    "stop_taken_back": TakenBack("It does not rest", "does not rest", "took back that “{what}” rests"),
    "inspection_taken_back": TakenBack(
        "It waits for no inspection", "waits for no inspection", "took back that “{what}” waits for inspection"),
    "finish_taken_back": TakenBack("It is not finished", "is not finished", "took back that “{what}” is finished"),
    "release_taken_back": TakenBack(
        "Released by mistake", "waits for its answers again",
        "took back that “{what}” may start without an approval"),
    "arrival_taken_back": TakenBack("It has not come", "has not come", "took back that “{what}” had come"),
}
"""By the kind of entry."""

WHY = "How the mistake came about"
WHY_HINT = "It goes on the record, with your name. What was said before stays there, too."


def taken_back_on_record(kind: str, what: str, reason: str) -> str:
    """As an entry says it: `took back that “Tile” had started. Why: the wrong row`."""
    return f"{TAKEN_BACK[kind].record.format(what=what)}. Why: {reason.rstrip('. ')}"


def done_words(kind: str, what: str) -> str:
    """What holds once it is done: `“Tile” has not started.`"""
    return f"“{what}” {TAKEN_BACK[kind].done}. Both stand in the record."


def opened_again_words(phase: str) -> str:
    """Why a question is open again that a start had closed."""
    return f"We had noted by mistake that “{phase}” had begun; it has not."
