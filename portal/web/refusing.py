"""Pages for what can't be done: what it is, and what to do. The API's problems say the same as JSON."""

from flask import Response, request
from werkzeug.exceptions import HTTPException

from portal.acts.household.links import holder_of
from portal.pages.plain_pages import render_message, render_wrong_link
from portal.request.session import to_the_door
from portal.store.reading.firm import current_firm
from portal.store.refusals import Refused
from portal.web.answer import page

_WORDS = {
    400: ("This can't be read", "The form was cut off or changed on its way. Go back and send it again."),
    403: ("This is not open to you", "If you think it should be, call the office."),
    404: ("There is nothing here", "The address may have a slip in it. If it is a link of ours, call the office."),
    405: ("This address takes no such form", "Go back and use the buttons of the page."),
    413: ("That is too large", "Send fewer or smaller photos at a time: at most 20 MB each."),
    500: ("Something went wrong here", "It is not your fault, and nothing was changed. Try again, or call the office."),
}


def page_for_refusal(error: Refused) -> Response:
    if error.status == 401:
        return to_the_door()
    title = {404: "There is nothing here", 503: "One moment, please"}.get(error.status, "This can't be done now")
    response = page(render_message(current_firm(), title, [str(error.details.get("message", error))]), error.status)
    if error.status == 503:
        response.headers["Retry-After"] = "2"
    return response


def page_for_http(error: HTTPException) -> Response:
    status = error.code or 500
    if status == 404 and request.path.startswith("/p/"):
        return page(_nothing_under(request.path.split("/")[2]), 404)
    if 300 <= status < 400:
        return error.get_response()  # type: ignore[return-value]
    title, sentence = _WORDS.get(status, (error.name, "Go back and try again, or call the office."))
    return page(render_message(current_firm(), title, [sentence]), status)


def _nothing_under(link: str) -> str:
    """Whoever holds a link that works must not be sent for a new one because of a slip behind it."""
    if holder_of(link) is None:
        return render_wrong_link(current_firm())
    sentence = "Your link works, but the rest of this address has a slip in it, or is of something that is gone."
    way = (f"{request.script_root}/p/{link}/", "Go to your page")
    return render_message(current_firm(), "There is nothing here", [sentence], way)
