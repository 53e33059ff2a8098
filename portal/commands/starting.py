"""What `portal serve` says when it starts: where it listens, and what is not set yet."""

from collections.abc import Iterator
from urllib.parse import urlsplit

from portal.settings import Settings
from portal.store.reading.firm import current_firm
from portal.store.rows import staff_rows

_LOOPBACK = ("localhost", "127.0.0.1", "::1")


def starting_words(settings: Settings, socket: str | None, host: str, port: int) -> list[str]:
    """A line each. The database is open, and its keys are its own."""
    where = f"the socket {socket}" if socket else f"http://{f'[{host}]' if ':' in host else host}:{port}"
    return [f"Listening on {where}. Links begin with {settings.base_url}.", *_this_machine(settings),
            *(f"Not set yet: {one}" for one in _not_set(settings))]


def _this_machine(settings: Settings) -> Iterator[str]:
    """It is an address, and right for trying things out: what it lacks is said, not that it is missing."""
    if urlsplit(settings.base_url).hostname in _LOOPBACK:
        yield ("This address works on this machine only: no phone can open such a link. For households set "
               "PORTAL_BASE_URL to the address that they open.")


def _not_set(settings: Settings) -> Iterator[str]:
    if settings.smtp is None:
        yield "PORTAL_SMTP, the mail server; until then no letter goes out, and the desk says whom to call."
    firm = current_firm()
    if not (firm.name and firm.phone):
        yield "the firm's name and phone: at the desk, under “The firm’s details”."
    if not staff_rows.managers_who_can_sign_in():
        yield "a manager who can sign in: portal staff add NAME EMAIL manager"
