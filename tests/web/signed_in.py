"""A client that works at the desk like a person: opens a page, fills in its form, presses its button."""

from typing import Any
from urllib.parse import urlencode, urljoin, urlsplit
from xml.etree.ElementTree import Element

from flask import Flask
from werkzeug.test import TestResponse

from tests.house import PASSWORD
from tests.web.plain import X, check_plain, text_of

Sent = dict[str, Any]


class Desk:
    """One member of staff's browser. Every page it is given is checked for being plain."""

    def __init__(self, app: Flask) -> None:
        self.app = app
        self.client = app.test_client()
        self.routes = app.url_map.bind("localhost")
        self.path = "/desk/"
        self.status = 0
        self.page = Element("none")
        self.answer: TestResponse | None = None

    def sign_in(self, first_name: str, password: str = PASSWORD) -> "Desk":
        self.open("/desk/sign-in")
        return self.send(email=f"{first_name}@brackwater.example.com", password=password)

    def open(self, way: str, status: int = 200) -> "Desk":
        self.path = urljoin(self.path, way)
        return self._given(self.client.get(self.path), status)

    def form(self, action: str = "") -> Element:
        """The form of the page that goes to `action`, by itself or by one of its buttons; the one without an action
        comes back to the page itself."""
        forms = list(self.page.iter(f"{X}form"))
        found = [form for form in forms if action in (form.get("action") or "", *_buttons(form))]
        assert len(found) == 1, [form.get("action") for form in forms]
        return found[0]

    def typed(self, action: str = "") -> Sent:
        """What the form would send as it stands."""
        return filled(self.form(action))

    def send(self, action: str = "", status: int = 200, **changed: Any) -> "Desk":
        """Change some inputs (`__` in a name is a dot), press the button, and go where the answer leads."""
        sent = self.typed(action) | {name.replace("__", "."): value for name, value in changed.items()}
        if self.form(action).get("method") == "get":
            return self.open(f"{action}?{urlencode(sent, doseq=True)}", status)
        self.path = urljoin(self.path, action)
        return self.post(sent, status)

    def post(self, sent: Sent, status: int = 200) -> "Desk":
        return self._landed(self.client.post(self.path, data=sent), status)

    def _landed(self, answer: TestResponse, status: int) -> "Desk":
        if answer.status_code == 303:
            where = urljoin(self.path, answer.headers["Location"])
            self.path = urlsplit(where).path
            answer = self.client.get(where)
            query = urlsplit(where).query
            self.path += f"?{query}" if query and answer.status_code == 200 else ""
        return self._given(answer, status)

    def looked(self, sent: Sent) -> "Desk":
        """Send a form; where the page says first what it would do, press once more, some seconds later: the phone's
        script says when each was pressed."""
        answer = self.client.post(self.path, data={**sent, "pressed_at": "1796140000"})
        if answer.status_code != 409:
            return self._landed(answer, 200)
        self._given(answer, 409)
        return self.post({**self.typed(), "pressed_at": "1796140013"})

    def _given(self, answer: TestResponse, status: int) -> "Desk":
        if answer.status_code == 303:
            self.path = urljoin(self.path, answer.headers["Location"])
            answer = self.client.get(self.path)
        html = answer.get_data(as_text=True)
        assert answer.status_code == status, f"{self.path}: {answer.status_code}\n{html[-3000:]}"
        self.page = check_plain(html, urlsplit(self.path).path, self.routes)
        self.answer, self.status = answer, answer.status_code
        return self

    @property
    def says(self) -> str:
        return text_of(self.page)

    @property
    def ways(self) -> set[str]:
        """Where its links and forms lead."""
        forms = list(self.page.iter(f"{X}form"))
        ways = [a.get("href") for a in self.page.iter(f"{X}a")] + [form.get("action") for form in forms]
        ways += [way for form in forms for way in _buttons(form)]
        return {way for way in ways if way}

    def wrong(self, name: str) -> str:
        """What the page says is wrong with an input."""
        found = [one for one in self.page.iter() if one.get("id") == f"{name}-wrong"]
        assert len(found) == 1, f"nothing is marked at {name}: {self.says}"
        return " ".join("".join(found[0].itertext()).split())


def _buttons(form: Element) -> list[str]:
    return [one.get("formaction") or "" for one in form.iter(f"{X}button") if one.get("formaction")]


def filled(form: Element) -> Sent:
    sent: Sent = {}
    for one in form.iter():
        name, kind = one.get("name"), one.tag.removeprefix(X)
        if not name:
            continue
        if kind == "textarea":
            sent[name] = (one.text or "").removeprefix("\n")
        elif kind == "select":
            options = list(one.iter(f"{X}option"))
            chosen = [option for option in options if option.get("selected") is not None] or options[:1]
            sent[name] = chosen[0].get("value")
        elif one.get("type") == "checkbox":
            if one.get("checked") is not None:
                before = sent.get(name, [])
                sent[name] = [*(before if isinstance(before, list) else [before]), one.get("value") or "on"]
        elif one.get("type") == "radio":
            if one.get("checked") is not None:
                sent[name] = one.get("value")
        elif kind == "input" and one.get("type") != "file":
            sent[name] = one.get("value") or ""
    return sent
