"""The way back for who lost the record key or the secret: others take over, and every record says so."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from portal import signing
from portal.acts.actor import OPERATOR
from portal.acts.entries import keep
from portal.acts.household.links import revoke_link
from portal.acts.keeping.own_keys import KeyRefused, check_keys, keys_refusal, own_secret, own_signer
from portal.record.log.entry_kinds import KEY_LOST, SECRET_LOST
from portal.record.log.heads import Signer
from portal.record.log.rotation import loss
from portal.settings import SettingRefused, Settings, made_once
from portal.store.engine.database import take_turns, touch, write
from portal.store.refusals import Refused
from portal.store.rows import link_rows, project_rows, record_rows
from portal.store.rows.crews import crew_link_rows
from portal.store.rows.record_rows import KeptKeys
from portal.words.dates import utc_text


class NothingLost(Refused):
    sentence = (
        "Nothing is lost: the record key and the secret are those of this database. For another record key: "
        "portal key rotate."
    )


class NoKeyInFile(Refused):
    sentence = "{path} holds no key, and may be what is left of one. Move it away, and run this again."


@dataclass(frozen=True, slots=True)
class Lost:
    """What is lost, and what was done about it: `told` projects whose record says so, `links` that were ended."""

    record_key: bool
    secret: bool
    told: int = 0
    links: int = 0


def what_is_lost(settings: Settings) -> Lost:
    """Which of the two is not the database's own. Raises NothingLost."""
    if keys_refusal(settings) is None:
        raise NothingLost()
    return Lost(_is_lost(own_signer, settings), _is_lost(own_secret, settings))


def replace_lost(settings: Settings, now: int) -> Lost:
    """Take the keys that are there, or make those that are not, in the place of the lost ones. Each record tells of it,
    and a lost secret ends all links. Interrupted, doing it again finishes it. Raises NothingLost, NoKeyInFile."""
    lost = what_is_lost(settings)
    new, secret = Signer(_made(settings.record_key_file)), _made(settings.secret_file)
    with write():
        take_turns("keys")
        kept = record_rows.kept_keys()
        old = kept.record_key if kept else record_rows.key_told()
        if lost.secret:
            crew_link_rows.revoke_all(now)
        links = [_told(project, old, new, lost, now) for project in project_rows.all_ids()]
        record_key = new.public_key if lost.record_key or kept is None else kept.record_key
        record_rows.keep_keys(KeptKeys(record_key, signing.secret_digest(secret)))
    check_keys(settings)
    return Lost(lost.record_key, lost.secret, len(links), sum(links))


def _told(project_id: int, old: str | None, new: Signer, lost: Lost, now: int) -> int:
    """Have one record say it; returns how many links were ended. An empty record has nothing that was signed."""
    touch(project_id)
    if lost.record_key and record_rows.count(project_id):
        keep(OPERATOR, project_id, KEY_LOST, loss(old, new, utc_text(now)), now)
    if not lost.secret:
        return 0
    people = [person.id for person in link_rows.person_of_project(project_id)]
    ended = sum(revoke_link(OPERATOR, project_id, person, now=now) for person in people)
    if record_rows.count(project_id):
        keep(OPERATOR, project_id, SECRET_LOST, {"links_ended": ended}, now)
    return ended


def _made(path: Path) -> bytes:
    try:
        return made_once(path)
    except SettingRefused as wrong:
        raise NoKeyInFile(path=path) from wrong


def _is_lost(look: Callable[[Settings], object], settings: Settings) -> bool:
    try:
        look(settings)
    except KeyRefused:
        return True
    return False
