"""Pages for what can't be done: what it is, and what to do. The API's problems say the same as JSON."""

from flask import Response, request
from werkzeug.exceptions import HTTPException

from portal.acts.household.links import holder_of
from portal.pages.plain_pages import render_message, render_wrong_link
from portal.request.by_script import note_refused
from portal.request.session import to_the_door
from portal.request.traces.request_id import to_tell
from portal.store.facts import FirmFact
from portal.store.reading.firm import current_firm, last_known_firm
from portal.store.refusals import Refused
from portal.web.answer import asked_to_wait, page

_WORDS = {
    400: ("This can’t be read", "The form was cut off or changed on its way. Go back and send it again."),
    403: ("This is not open to you", "If you think it should be, call the office."),
    404: ("There is nothing here", "The address may have a slip in it. If it is a link of ours, call the office."),
    405: ("This address takes no such form", "Go back and use the buttons of the page."),
    413: ("That is too large", "Send fewer or smaller photos at a time, at most 20 MB each, or a shorter text."),
    429: ("That was too often", "Wait a little, then try again. If it is urgent, call the office."),
    500: ("Something went wrong here", "It is not your fault, and nothing was changed. Try again, or call the office."),
}
_TITLES = {403: "This is for others to do", 404: "There is nothing here",
           429: "That was too often", 503: "One moment, please"}


def page_for_refusal(error: Refused) -> Response:
    if error.status == 401:
        return to_the_door()
    title = _TITLES.get(error.status, "This can’t be done now")
    sentences = [str(error.details.get("message", error)), *_number(error.status)]
    note_refused(sentences)
    way = (f"{request.script_root}/desk/", "Back to Today") if error.status == 403 and _at_the_desk() else None
    return asked_to_wait(page(render_message(_firm(), title, sentences, way), error.status), error)


def page_for_http(error: HTTPException) -> Response:
    status = error.code or 500
    if status == 404 and request.path.startswith("/p/"):
        return page(_nothing_under(request.path.split("/")[2]), 404)
    if status == 404 and request.path.startswith("/c/"):
        return page(render_wrong_link(current_firm()), 404)
    if 300 <= status < 400:
        return error.get_response()  # type: ignore[return-value]
    title, sentence = _WORDS.get(status, (error.name, "Go back and try again, or call the office."))
    note_refused([f"{title}.", sentence])
    return page(render_message(_firm(), title, [sentence, *_number(status)]), status)


def _at_the_desk() -> bool:
    return request.path.startswith("/desk/")


def _number(status: int) -> list[str]:
    return [f"If you call about it, tell us this number: {to_tell()}."] if status >= 500 else []


def _firm() -> FirmFact:
    """Also when the database can't be asked: whom to call is what matters then."""
    try:
        return current_firm()
    except Exception:
        return last_known_firm()


def _nothing_under(link: str) -> str:
    """Whoever holds a link that works must not be sent for a new one because of a slip behind it."""
    if holder_of(link) is None:
        return render_wrong_link(current_firm())
    sentence = "Your link works, but the rest of this address has a slip in it, or is of something that is gone."
    way = (f"{request.script_root}/p/{link}/", "Go to your page")
    return render_message(current_firm(), "There is nothing here", [sentence], way)
