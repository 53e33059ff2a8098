"""What has just been said is taken back from the notice that says it was done: a slip of the thumb is seen there."""

import json

from flask import Response, flash, get_flashed_messages

SLIP = "slip"
"""The category under which the next page is told what leads back."""


def offer_back(answer: Response, words: str, about: str, way: str) -> Response:
    """Once it was done, its notice carries a link. `words`: its sign; `about`: what it is done to; `way`: where its
    form is, from the site's root."""
    if answer.status_code == 303:
        flash(json.dumps([words, about, way]), SLIP)
    return answer


def offered() -> list[list[str]]:
    return [json.loads(str(one)) for one in get_flashed_messages(category_filter=[SLIP])]
