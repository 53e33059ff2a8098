"""When a form was pressed that could not be sent at once: a phone keeps it until there is a network (static/desk)."""

from flask import abort, request

from portal import clock
from portal.acts.times import pressed_by


def pressed_at() -> int:
    """The instant, now where the form says none. Raises FieldRefused for one that can't be true."""
    text = request.form.get("pressed_at", "")
    if not text:
        return clock.now()
    if not (text.isascii() and text.isdecimal() and len(text) < 12):
        abort(400)
    return pressed_by(int(text), clock.now())
