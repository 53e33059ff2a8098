"""What the script that keeps forms on a phone is told of one that it sends for somebody who looks elsewhere."""

from flask import Response, flash, get_flashed_messages, jsonify, request

from portal.request.by_script import is_by_script, refused_with

ANSWERED = "answered"
"""The category under which the next page is told which form was done: then the phone need not keep it."""
_UNFINISHED = "This form has a further step. Open it and go on."
_LATER = (401, 429)


def answer_script(response: Response) -> Response:
    """After every request: of a form that was sent, what became of it. What can't be done now (429, 5xx) stays as it
    is, and the script tries again."""
    if request.method != "POST" or response.status_code in _LATER or response.status_code >= 500:
        return response
    done = response.status_code == 303
    if not is_by_script():
        if done and request.form.get("once"):
            flash(request.form["once"][:64], ANSWERED)
        return response
    told = {"state": "sent", "said": get_flashed_messages(category_filter=["message"])} if done else (
        {"state": "refused", "reason": " ".join(refused_with()) or _UNFINISHED})
    answer = jsonify(told)
    answer.status_code = 200 if done else max(response.status_code, 400)
    return answer


def answered(form_stands_here: bool) -> list[str]:
    """The marks of forms that the phone need not keep any more: done before, or shown on this page with all that was
    typed."""
    done = get_flashed_messages(category_filter=[ANSWERED])
    here = [request.form.get("once", "")[:64]] if form_stands_here and request.method == "POST" else []
    return [one for one in [*done, *here] if one.isalnum()]
