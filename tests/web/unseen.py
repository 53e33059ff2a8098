"""U+0000 put into everything that the portal reads: each input of each form, each query, each piece of an address."""

import inspect
import re
from collections.abc import Iterator

from flask import Flask
from flask.testing import FlaskClient

from tests.house import House
from tests.web.plain import X
from tests.web.signed_in import Desk, Sent, filled
from tests.web.test_who_may import ids, pages

NUL = "\0"
TYPED = {None, "text", "email", "tel", "search"}
"""Types of inputs into which people type words: no date, no number, nothing that they only choose."""
_QUERY = re.compile(r'request\.args\.get\("(\w+)"|^ {4}(\w+) = fields\.', re.M)

NOT_READY = ("/up/ready", 503)
"""What is right of a house where no tick has run: an answer, and no fault."""


def typed_inputs(page: Desk) -> set[str]:
    texts = [one for one in page.form().iter(f"{X}input") if one.get("type") in TYPED]
    return {str(one.get("name")) for one in [*texts, *page.form().iter(f"{X}textarea")]}


def spoiled_forms(app: Flask, house: House, desk: Desk) -> Iterator[tuple[str, str, int, str]]:
    """Address, input, status and page of each form of the desk that was sent with U+0000 in that input. The inputs
    into which nobody types come last, their names left out: what they say may be passed over, and the form be done."""
    found = [
        (way, sent, name, name in texts)
        for way, sent, texts in _forms(app, house, desk) for name in sent if name != "mark"
    ]  # fmt: skip
    for way, sent, name, is_text in sorted(found, key=lambda one: not one[3]):
        answer = desk.client.post(way, data=sent | {name: f"two{NUL}holes" if is_text else NUL})
        yield way, name if is_text else "", answer.status_code, answer.get_data(as_text=True)


def _forms(app: Flask, house: House, desk: Desk) -> Iterator[tuple[str, Sent, set[str]]]:
    for _, address in pages(app, ids(house)):
        way = desk.open(address).path
        if any(not form.get("action") and form.get("method") == "post" for form in desk.page.iter(f"{X}form")):
            yield way, filled(desk.form()), typed_inputs(desk)


def spoiled_queries(app: Flask, house: House, client: FlaskClient, bearer: str) -> Iterator[tuple[str, int]]:
    """Address and status of each page that was asked for with U+0000 in its query, or in its address."""
    routes, given = app.url_map.bind("localhost"), {"link": house.links["homeowner"]} | ids(house)
    for rule in app.url_map.iter_rules():
        if "GET" not in (rule.methods or ()):
            continue
        values = {one: given.get(one, 1 if f"int:{one}" in rule.rule else NUL) for one in rule.arguments}
        way = routes.build(rule.endpoint, values)
        ways = [f"{way}?{name}=%00" for name in sorted(_read_by(app, rule.endpoint))] or [way]
        for one in ways:
            yield one, client.get(one, headers={"Authorization": f"Bearer {bearer}"}).status_code


def _read_by(app: Flask, endpoint: str) -> set[str]:
    """The names that the module of a view takes from queries."""
    module = inspect.getmodule(inspect.unwrap(app.view_functions[endpoint]))
    found = _QUERY.findall(inspect.getsource(module)) if module else []
    return {name for pair in found for name in pair if name}
