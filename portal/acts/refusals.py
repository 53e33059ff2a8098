"""Refusals of the acts: one class a reason, one sentence each, fit to be read down the phone."""

from portal.store.refusals import Busy, CannotWrite, FieldRefused, NotFound, Refused, Stale, TooOften

__all__ = [
    "AlreadyAccepted", "AlreadyAnswered", "AlreadyApproved", "AlreadyFinished", "AlreadyStarted", "ApprovedAlready",
    "Busy", "CannotWrite", "CrewBooked", "FieldRefused", "FinishFirst", "HandedOver", "HandoverTakenBack", "Held",
    "HouseClosed", "ItemDone", "NeverCame", "NeverFinished", "NeverReleased", "NeverStarted", "NeverStopped",
    "NotAPhoto", "NotAsked", "NotByMistake", "NotClosed", "NotFound", "NotHeld", "NotSignedIn", "NotStarted",
    "NotStopped", "NotYourPassword", "NotYours", "NothingFromPaper", "NothingToWithdraw", "OnlyPlanned", "OutOfTurn",
    "PricesLeftOut", "QuestionWithdrawn", "Refused", "RestFirst", "Stale", "StartFirst", "StartedOnIt",
    "StoppedTooOften", "Superseded", "TooLateToWithdraw", "TooManyQuestions", "TooOften", "WorkHasBegun",
    "WrongPassword",
]


class NotSignedIn(Refused):
    status = 401
    sentence = "Please sign in first."


class PricesLeftOut(Refused):
    status = 403
    sentence = "This holds prices, which are left out for you. An owner of the house can have them shown to you."


class WrongPassword(Refused):
    status = 403
    sentence = "That e-mail address and password don’t belong together. Check both and try again."


class NotYourPassword(Refused):
    status = 403
    sentence = "That is not your password. Nothing was changed."


class NotYours(Refused):
    status = 403
    sentence = "This is for {who} to do."


class StoppedTooOften(Refused):
    status = 429
    retry_after = 3600
    sentence = "Mail was stopped and begun too often today. Please call the office: we do it for you."


class Held(Refused):
    """`decisions` are those in the way, `planned` the questions that must be asked first, `until` says in words what
    has to happen to them."""

    sentence = "{phase} can’t start yet: it is held until {until}."


class NotAsked(Refused):
    """`planned`: the questions that the plan wants asked, `questions` the same in words."""

    sentence = "{phase} can’t start yet: the plan wants {questions} asked first, or dropped."


class OutOfTurn(Refused):
    """`open`: what is still open, as portal.planning.conflicts.out_of_turn tells it. Done all the same by whoever says
    so after having been asked."""

    sentence = "By the plan, {phase} is not due for this. Look at what speaks against it; it can be done anyway."


class NotHeld(Refused):
    sentence = "{phase} is not held by an open decision, so there is nothing to release."


class OnlyPlanned(NotHeld):
    """There is nothing to release, and yet something in the way: `planned`."""

    sentence = (
        "{phase} is not held by an open decision, and a release doesn’t lift what the plan wants asked first: "
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


class NeverStarted(Refused):
    sentence = "{phase} has not been started, so there is nothing to take back."


class NeverStopped(Refused):
    sentence = "{phase} does not rest and waits for no inspection, so there is nothing to take back."


class NeverFinished(Refused):
    sentence = "{phase} is not finished, so there is nothing to take back."


class NeverReleased(Refused):
    sentence = "No release of {phase} stands, so there is nothing to take back."


class NeverCame(Refused):
    sentence = "{item} has not come yet, so there is nothing to take back."


class StartFirst(Refused):
    sentence = "{phase} was started on {when}. Take that back first, then its release."


class RestFirst(Refused):
    sentence = "{phase} {how}. Take that back first, then its start."


class FinishFirst(Refused):
    sentence = "{phase} was finished on {when}. Take that back first, then its start."


class HandedOver(Refused):
    sentence = "{phase} was handed over, so it stays finished. What is still to be done goes on that hand-over’s list."


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
    sentence = "“{phase}” has started on your approval, so it can’t be taken back here. Please call the office."


class NothingFromPaper(Refused):
    sentence = "Of decision {number} nothing that was entered from paper stands, so there is nothing to take back."


class StartedOnIt(Refused):
    sentence = "“{phase}” has started on this approval, so it stands. What is still to be done is asked anew."


class AlreadyAccepted(Refused):
    sentence = "This hand-over was accepted already, by {name}."


class HandoverTakenBack(Refused):
    sentence = "This hand-over was taken back: {reason}."


class ItemDone(Refused):
    sentence = "“{item}” is done already, so it stays as it is. Add what is open now."


class HouseClosed(Refused):
    sentence = "This house is closed since {day}, so nothing was changed. Open it again first."


class NotClosed(Refused):
    sentence = "This house is not closed."


class NotByMistake(Refused):
    sentence = "This house stays: {why}. Close it instead."


class ListClosed(Refused):
    sentence = "This list took new things until {day}. Call us, or tell us on your page: we still look at it."


class AlreadyAnswered(Refused):
    sentence = "This question was answered already, by {name}."


class MessageAnswered(Refused):
    sentence = "This message was answered already, by {name}."


class VisitNotToCome(Refused):
    sentence = "This visit is over or was cancelled, so there is nothing to say about it. Look at those to come."


class VisitMoved(Refused):
    sentence = "This visit was moved since you read it. Look at its new time, and say whether that suits."


class MatterChanged(Refused):
    status = 412
    sentence = "This has changed since you opened the list, so it was not noted. Look at it again, then tell them."


class NothingToPlace(Refused):
    sentence = "Decision {number} has no drawing of pulls, so there is nothing to place."


class Settled(Refused):
    sentence = "Decision {number} is approved. Call the office: it must be asked anew before it can change."


class TooManyQuestions(TooOften):
    sentence = (
        "{many} questions of yours about decision {number} wait for an answer; let us answer these first, or call the "
        "office."
    )


class NotAPhoto(Refused):
    status = 422
    sentence = "{file} can’t be used as a photo: {reason}"


class PhotosWait(Refused):
    """One is made small at a time, and those before it took too long."""

    status = 503
    retry_after = 60
    sentence = "Other photos are being made ready just now, so {file} was not taken. Please send it again in a minute."


class CrewBooked(Refused):
    sentence = (
        "{crew} still has work before it at {where}. Give that to another crew first; or keep it, and untick that it "
        "is offered."
    )
