"""The first day as a list: what is done and since when, what is missing and who mends it where."""

from dataclasses import dataclass
from urllib.parse import urlsplit

from portal.backup.last import last_made
from portal.notices.to_staff.at_once import sends_mail
from portal.request.services import services
from portal.running.last_tick import last_tick
from portal.running.limits import MOST_BACKUP_AGE, MOST_TICK_AGE
from portal.settings import Settings
from portal.store.reading.firm import current_firm
from portal.store.rows import staff_rows
from portal.store.rows.accounts import first_day_rows, way_in_rows
from portal.store.rows.project_rows import usual_timezone
from portal.store.tables import FirstDay
from portal.words.dates import when_words
from portal.words.lists import listed

_LOOPBACK = ("localhost", "127.0.0.1", "::1")
_SERVER = "On the server:"
"""What stands behind it is for whoever looks after the server."""


@dataclass(frozen=True, slots=True)
class Step:
    """`when`: since when it is done, as far as that is known. `words`: how it stands, or what is missing. `way`,
    `button`: where it is mended at the desk; empty where the server's own people mend it."""

    key: str
    title: str
    done: bool
    words: str
    when: str = ""
    way: str = ""
    button: str = ""


def steps(now: int, asked_at: str) -> list[Step]:
    """Each, in the order in which a firm does them. `asked_at`: scheme and host under which this page was asked for."""
    settings, kept = services().settings, first_day_rows.done()
    return [
        _details(kept), _address(settings, asked_at), _mail(settings, kept), _tick(settings, now),
        _backup(settings, now), _colleague(kept, now), _house(kept),
    ]


def missing(now: int, asked_at: str) -> list[Step]:
    return [one for one in steps(now, asked_at) if not one.done]


def _since(kept: dict[str, FirstDay], step: str) -> str:
    return _when(kept[step].at) if step in kept else ""


def _when(at: int) -> str:
    return when_words(at, usual_timezone() or "UTC")


def _details(kept: dict[str, FirstDay]) -> Step:
    firm = current_firm()
    lacking = [words for words, text in (("its name", firm.name), ("its phone number", firm.phone),
                                         ("when the phone is answered", firm.office_hours),
                                         ("its mark", firm.mark)) if not text]
    words = f"{firm.name}, {firm.phone}, {firm.office_hours}." if not lacking else (
        f"Not written down: {listed(lacking)}. Households read it on every page.")
    return Step("details", "Name, phone, hours and mark", not lacking, words, _since(kept, "details"),
                "/desk/firm", "Write it down")


def _address(settings: Settings, asked_at: str) -> Step:
    ours, here = urlsplit(settings.base_url), urlsplit(asked_at)
    same = (ours.scheme, ours.netloc) == (here.scheme, here.netloc)
    alone = ours.hostname in _LOOPBACK
    words = f"They begin with {settings.base_url}, and you are there."
    if not same:
        words = (f"They begin with {settings.base_url}, and you are at {asked_at}. A link that was sent would lead "
                 f"elsewhere. {_SERVER} set PORTAL_BASE_URL to the address that households open.")
    elif alone:
        words = (f"They begin with {settings.base_url}, which no phone can open: it is this machine alone. {_SERVER} "
                 "set PORTAL_BASE_URL to the address that households open.")
    return Step("address", "The address that links carry", same and not alone, words)


def _mail(settings: Settings, kept: dict[str, FirstDay]) -> Step:
    title, tried = "Mail goes out", kept.get("mail")
    if settings.smtp is None:
        return Step("mail", title, False, "There is no mail server yet, so nobody gets a letter; the desk says whom to "
                    f"call. {_SERVER} set PORTAL_SMTP, then run portal check.")
    if not sends_mail(settings, current_firm()):
        return Step("mail", title, False, "The firm has no e-mail address that letters could come from.", "",
                    "/desk/firm", "Write it down")
    if tried is None:
        return Step("mail", title, False, "Not tried yet: send a letter to yourself, and look whether it comes.", "",
                    "/desk/first-day/mail", "Send it")
    if tried.trouble:
        return Step("mail", title, False, f"Tried {_when(tried.at)}, and it did not go: {tried.trouble}", "",
                    "/desk/first-day/mail", "Try it again")
    return Step("mail", title, True, "The mail server took a letter.", _when(tried.at), "/desk/first-day/mail", "Again")


def _tick(settings: Settings, now: int) -> Step:
    last = last_tick(settings)
    good = last is not None and now - last.at <= MOST_TICK_AGE
    words = "The clock runs: reminders, letters and the pages of a new day go out by themselves."
    if not good:
        since = f"since {_when(last.at)}" if last else "still"
        words = (f"The clock stands {since}: no reminder, no letter and no page of a new day. {_SERVER} "
                 "run portal tick every five minutes (portal-tick.timer).")
    return Step("tick", "What time brings is done", good, words, _when(last.at) if last and good else "")


def _backup(settings: Settings, now: int) -> Step:
    made = last_made(settings)
    good = made is not None and now - made <= MOST_BACKUP_AGE
    words = "All can be put back on another server."
    if not good:
        last = "There is none yet" if made is None else f"The last one is of {_when(made)}"
        words = (f"{last}: what was entered since would be lost with the server. {_SERVER} "
                 "run portal backup each night (portal-backup.timer).")
    return Step("backup", "A backup", good, words, _when(made) if made is not None and good else "")


def _colleague(kept: dict[str, FirstDay], now: int) -> Step:
    people = staff_rows.every_working()
    can = [one.name for one in people if one.password_hash]
    waiting = [one for one in people if not one.password_hash]
    if len(can) > 1:
        return Step("colleague", "A first colleague", True, f"{listed(can[:4])} can sign in.",
                    _since(kept, "colleague"), "/desk/staff/", "Look")
    if waiting:
        out = waiting[0].id in way_in_rows.newest(now - 24 * 3600)
        words = f"{waiting[0].name} has {'a link' if out else 'no link'} to set a password, and has not set one yet."
        return Step("colleague", "A first colleague", False, words, "", f"/desk/staff/{waiting[0].id}/", "Look")
    return Step("colleague", "A first colleague", False, "You are the only one who can sign in: if your phone is lost, "
                "nobody answers here.", "", "/desk/staff/new", "Add one")


def _house(kept: dict[str, FirstDay]) -> Step:
    is_there = bool(usual_timezone())
    return Step("house", "A first house", is_there, "It is set up." if is_there else "There is none yet.",
                _since(kept, "house"), "" if is_there else "/desk/projects/new", "Set one up")
