"""Refusals of the acts: one class a reason, one sentence each, fit to be read down the phone."""

from portal.store.refusals import Busy, CannotWrite, FieldRefused, NotFound, Refused, Stale

__all__ = [
    "AlreadyAccepted", "AlreadyAnswered", "AlreadyApproved", "AlreadyFinished", "AlreadyStarted", "ApprovedAlready",
    "Busy", "CannotWrite", "FieldRefused", "Held", "NotAPhoto", "NotAsked", "NotFound", "NotHeld", "NotSignedIn",
    "NotStarted", "NotStopped", "NotYours", "NothingFromPaper", "NothingToWithdraw", "OnlyPlanned",
    "QuestionWithdrawn", "Refused", "Stale", "StartedOnIt", "Superseded", "TooLateToWithdraw", "WorkHasBegun",
    "WrongPassword",
]


class NotSignedIn(Refused):
    status = 401
    sentence = "Please sign in first."


class WrongPassword(Refused):
    status = 403
    sentence = "That e-mail address and password don't belong together. Check both and try again."


class NotYours(Refused):
    status = 403
    sentence = "This is for {who} to do."


class Held(Refused):
    """`decisions` are those in the way, `planned` the questions that must be asked first, `until` says in words what
    has to happen to them."""

    sentence = "{phase} can't start yet: it is held until {until}."


class NotAsked(Refused):
    """`planned`: the questions that the plan wants asked, `questions` the same in words."""

    sentence = "{phase} can't start yet: the plan wants {questions} asked first, or dropped."


class NotHeld(Refused):
    sentence = "{phase} is not held by an open decision, so there is nothing to release."


class OnlyPlanned(NotHeld):
    """There is nothing to release, and yet something in the way: `planned`."""

    sentence = (
        "{phase} is not held by an open decision, and a release doesn't lift what the plan wants asked first: "
        "{questions}. Ask it, or drop it."
    )


class AlreadyStarted(Refused):
    sentence = "{phase} was started already, on {when}."


class NotStarted(Refused):
    sentence = "{phase} has not been started. Start it first."


class NotStopped(Refused):
    sentence = "{phase} is not resting, so there is nothing to resume."


class AlreadyFinished(Refused):
    sentence = "{phase} was finished already, on {when}."


class Superseded(Refused):
    sentence = (
        "The question has changed since you read it: {changes} Your answer was not counted. "
        "Please read the new question and answer that."
    )


class AlreadyApproved(Refused):
    sentence = "{name} already approved “{option}” for decision {number} on {when}. Call the office to change it."


class WorkHasBegun(Refused):
    sentence = (
        "Decision {number} is closed: the work has begun ({phases}). If something about it must change, please call "
        "the office."
    )


class QuestionWithdrawn(Refused):
    sentence = "Decision {number} was withdrawn by {name}: {reason}. No answer is needed any more."


class ApprovedAlready(Refused):
    sentence = "Decision {number} is approved, so the question stands. If something has changed, ask it again."


class NothingToWithdraw(Refused):
    sentence = "You have not approved decision {number}, so there is nothing to take back."


class TooLateToWithdraw(Refused):
    sentence = "“{phase}” has started on your approval, so it can't be taken back here. Please call the office."


class NothingFromPaper(Refused):
    sentence = "Of decision {number} nothing that was entered from paper stands, so there is nothing to take back."


class StartedOnIt(Refused):
    sentence = "“{phase}” has started on this approval, so it stands. What is still to be done is asked anew."


class AlreadyAccepted(Refused):
    sentence = "This hand-over was accepted already, by {name}."


class AlreadyAnswered(Refused):
    sentence = "This question was answered already, by {name}."


class NothingToPlace(Refused):
    sentence = "Decision {number} has no drawing of pulls, so there is nothing to place."


class Settled(Refused):
    sentence = "Decision {number} is approved. Call the office: it must be asked anew before it can change."


class NotAPhoto(Refused):
    status = 422
    sentence = "{file} can't be used as a photo: {reason}"
