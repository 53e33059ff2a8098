"""`portal demo`: seeds the invented project into a folder of its own, serves it, and prints the links."""

import argparse
import json
import os
import shutil
from pathlib import Path

from portal import clock
from portal.acts.keeping.own_keys import check_keys
from portal.commands.notices import send_notices
from portal.demo import story
from portal.demo.seed import PASSWORD, Told, seed
from portal.pages.publishing.publish import Publisher
from portal.serving import Server, address_of, check_place
from portal.settings import Settings
from portal.store.engine.database import close_database, stop_listening
from portal.store.engine.opening import open_or_make
from portal.store.refusals import FieldRefused

MARK = ".demo"


def run_demo(arguments: argparse.Namespace) -> int:
    bind = address_of(arguments.host, arguments.port)
    base = f"http://{bind}"
    check_place(arguments.host, arguments.port)
    settings = _settings(Path(arguments.data).resolve(), base)
    told = _seeded(settings)
    say = _json if arguments.json else _words
    Server(bind, arguments.workers, 8, when_ready=lambda: print(say(base, told), flush=True)).run()
    return 0


def _settings(data: Path, base: str) -> Settings:
    """The demo's own: a database and a site in `data`, whatever the environment says of the real ones."""
    if data.exists() and any(data.iterdir()):
        if not (data / MARK).exists():
            raise FieldRefused("data", f"{data} is not empty and not of a demo. Name an empty folder.")
        shutil.rmtree(data)
    data.mkdir(parents=True, exist_ok=True)
    (data / MARK).touch()
    os.environ.update(PORTAL_DATA=str(data), PORTAL_BASE_URL=base)
    for name in ("PORTAL_DATABASE", "PORTAL_SECRET_FILE", "PORTAL_SMTP"):
        os.environ.pop(name, None)
    return Settings.read()


def _seeded(settings: Settings) -> Told:
    stop_listening()
    open_or_make(settings.database)
    check_keys(settings)
    told = seed(settings, clock.now())
    send_notices(settings)  # as the ticks of the story would have: none is sent, what is no longer true is dropped
    Publisher(settings.site, settings.secret, background=False).publish_all()
    close_database()
    return told


def _facts(base: str, told: Told) -> dict[str, object]:
    return {
        "base": base,
        "project": told.project,
        "pages": [f"{base}/p/{link}/" for link in told.links],
        "desk": f"{base}/desk/",
        "manager_token": told.tokens["manager"],
        "office_token": told.tokens["office"],
        "sign_in": [{"email": email, "password": PASSWORD, "role": role} for _, email, role in story.STAFF],
    }


def _json(base: str, told: Told) -> str:
    return json.dumps(_facts(base, told))


def _words(base: str, told: Told) -> str:
    people = zip((person["name"] for person in story.PEOPLE), told.links, strict=True)
    pages = "\n".join(f"  {name}: {base}/p/{link}/" for name, link in people)
    staff = "\n".join(f"  {role}: {email}" for _, email, role in story.STAFF)
    return (
        f"The demo is at {base}/ (Ctrl-C ends it).\n\n"
        f"The page of the invented house, under each homeowner's own link:\n{pages}\n\n"
        f"The desk: {base}/desk/\n{staff}\n  password of both: {PASSWORD}\n\n"
        f"The API: {base}/api/v1/openapi.json\n  the manager's token: {told.tokens['manager']}"
    )


