"""The browser that a request comes from: what it is in a few words, and whether it has signed in before."""

from flask import Response, after_this_request, request

from portal import signing
from portal.request.services import services

_SYSTEMS = [("iPhone", "iPhone"), ("iPad", "iPad"), ("Android", "Android"), ("Windows", "Windows"), ("Mac OS", "Mac"),
            ("CrOS", "Chromebook"), ("Linux", "Linux")]
_BROWSERS = [("Edg", "Edge"), ("OPR/", "Opera"), ("SamsungBrowser", "Samsung Internet"), ("Firefox", "Firefox"),
             ("FxiOS", "Firefox"), ("CriOS", "Chrome"), ("Chrome", "Chrome"), ("Safari", "Safari")]
_KNOWN_SECONDS = 365 * 24 * 3600


def device_words() -> str:
    """Such as `Safari, iPhone`: enough to know one's own again, too little to follow somebody by."""
    sent = request.headers.get("User-Agent", "")
    found = [next((words for mark, words in known if mark in sent), "") for known in (_BROWSERS, _SYSTEMS)]
    return ", ".join(one for one in found if one) or "another program"


def cookie_name(name: str, secure: bool) -> str:
    """By https one that a browser takes from this host alone, for all of it, and only so (RFC 6265bis, 4.1.3.2)."""
    return f"__Host-{name}" if secure else name


def known_to(account: str) -> str:
    """What names this browser, if somebody has signed in to the account with it before; else an empty text."""
    salt, _, mark = request.cookies.get(_name(), "").partition(".")
    right = signing.known_browser(services().settings.secret, account, salt)
    return salt if salt and signing.same(mark, right) else ""


def remember(account: str) -> None:
    """Have this browser known to the account from now on."""
    if known_to(account):
        return
    salt = signing.new_salt()
    value = f"{salt}.{signing.known_browser(services().settings.secret, account, salt)}"

    @after_this_request
    def keep(response: Response) -> Response:
        response.set_cookie(_name(), value, max_age=_KNOWN_SECONDS, secure=_secure(), httponly=True, samesite="Lax")
        return response


def _name() -> str:
    return cookie_name("portal-known", _secure())


def _secure() -> bool:
    return services().settings.over_tls
