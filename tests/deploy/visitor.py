"""Somebody with a browser's bare means: addresses, cookies, forms."""

import re
from http.cookiejar import CookieJar
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, build_opener


class Visitor:
    """Reads pages below `base`; an answer that is not a success is an HTTPError."""

    def __init__(self, base: str) -> None:
        self.base = base
        self._opener = build_opener(HTTPCookieProcessor(CookieJar()))

    def fetch(self, path: str, sent: dict[str, str] | None = None) -> bytes:
        body = None if sent is None else urlencode(sent).encode()
        with self._opener.open(self.base + path, body, timeout=30) as answer:
            self.path: str = answer.geturl().removeprefix(self.base)
            got: bytes = answer.read()
        return got

    def read(self, path: str) -> str:
        return self.fetch(path).decode()

    def sign_in(self, email: str, password: str) -> str:
        """The page of the desk that one comes to."""
        form = self.read("/desk/")
        hidden = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', form))
        return self.fetch(self.path, hidden | {"email": email, "password": password}).decode()
