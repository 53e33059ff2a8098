"""Which path may stand in a log: a private link is a credential, and is mistyped in any place.

So nothing is taken out of an address; only what is known to be harmless is put in. deploy/nginx.conf goes by the same
rule with the means that it has.
"""

import re

from flask import request

_PLACE = re.compile(r"<(?:[^:>]+:)?([^>]+)>")


def logged_path() -> str:
    """The rule of the route that answers, with its numbers: `/desk/projects/7`, `/p/-/decisions/3/`; where no route
    does, `-`."""
    if request.url_rule is None:
        return "-"
    values = request.view_args or {}
    return _PLACE.sub(lambda place: _number(values.get(place[1])), request.url_rule.rule)


def _number(value: object) -> str:
    return str(value) if isinstance(value, int) else "-"
