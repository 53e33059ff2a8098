"""The keys that belong to a database: it holds the public key of its heads and a digest of its secret, and with other
ones nothing is signed, sent or published. They are made for a new database and for no other.
"""

from pathlib import Path

from portal import signing
from portal.record.log.heads import Signer, key_name
from portal.settings import SettingRefused, Settings, made_once, secret_bytes
from portal.store.engine.database import take_turns, write
from portal.store.refusals import Refused
from portal.store.rows import link_rows, record_rows
from portal.store.rows.record_rows import KeptKeys


class KeyRefused(Refused):
    """A key that can't be used with this database."""

    status = 503


class KeyMissing(KeyRefused):
    """The file of the record key or of the secret is not there, and the database is not new."""

    sentence = (
        "{path} is not there: {what} that this database was begun with. Put that file back from a backup, where it "
        "is called {member}, and start the service again. If it is lost for good: "
        "portal key replace-lost."
    )


class KeyUnreadable(KeyRefused):
    sentence = "{reason} A backup has it as {member}. If it is lost for good: portal key replace-lost."


class OtherRecordKey(KeyRefused):
    """Heads signed by it would not verify, and receipts that are out would seem forged."""

    sentence = (
        "{path} holds the key {found}, and the records of this database are signed with the key {kept}. Put back the "
        "file that belongs to this database (a backup has it as {member}), and start the service again. If it is lost "
        "for good: portal key replace-lost."
    )


class OtherSecret(KeyRefused):
    """Links made from it would not open, and those that are out would be taken from the site."""

    sentence = (
        "{path} holds another secret than the one that the links of this database are made from. Put back the file "
        "that belongs to this database (a backup has it as {member}), and start the service again. If it is lost for "
        "good: portal key replace-lost."
    )


def check_keys(settings: Settings) -> None:
    """Take the keys if the database is new, or has none noted yet; then compare. Raises KeyRefused, in words."""
    if record_rows.kept_keys() is None:
        _take(settings)
    own_signer(settings)
    own_secret(settings)


def keys_refusal(settings: Settings) -> Refused | None:
    """Why these keys can't be used with the open database, in words for its operator; None: they are its own."""
    try:
        check_keys(settings)
    except KeyRefused as refusal:
        return refusal
    return None


def signer(settings: Settings) -> Signer:
    """Sign with the key that belongs to the open database. Raises KeyRefused."""
    check_keys(settings)
    return own_signer(settings)


def own_signer(settings: Settings) -> Signer:
    """The record key, if it is this database's own. While a key takes over, both lie there: the one that the records
    tell of is in force, whichever it is. Raises KeyRefused."""
    kept = record_rows.kept_keys()
    own = kept.record_key if kept else record_rows.key_told()
    if settings.next_record_key_file.exists():
        following = Signer(_read(settings.next_record_key_file, "the next record key", "data/record-key.next"))
        if following.public_key == own:
            return following
    found = Signer(_read(settings.record_key_file, "the record key", "data/record-key"))
    if own not in (None, found.public_key):
        raise OtherRecordKey(path=settings.record_key_file, found=key_name(found.public_key),
                             kept=key_name(str(own)), member="data/record-key")
    return found


def own_secret(settings: Settings) -> bytes:
    """The secret, if it is this database's own; where none is noted yet, the newest link tells. Read each time, unlike
    `settings.secret`: it may have been put back. Raises KeyRefused."""
    secret = _read(settings.secret_file, "the secret", "secret")
    kept, link = record_rows.kept_keys(), link_rows.newest_link()
    if kept is not None:
        fits = signing.secret_digest(secret) == kept.secret_digest
    else:
        fits = link is None or signing.digest(signing.link_for(secret, link.salt)) == link.digest
    if not fits:
        raise OtherSecret(path=settings.secret_file, member="secret")
    return secret


def _take(settings: Settings) -> None:
    """A new database has its keys made now; an older one takes those that are there, unless its records and links tell
    that they are not its own."""
    with write():
        take_turns("keys")
        if record_rows.kept_keys() is not None:
            return
        if not record_rows.has_entries():
            made_once(settings.record_key_file)
            if link_rows.newest_link() is None:
                made_once(settings.secret_file)
        public_key = own_signer(settings).public_key
        record_rows.keep_keys(KeptKeys(public_key, signing.secret_digest(own_secret(settings))))


def _read(path: Path, what: str, member: str) -> bytes:
    if not path.exists():
        raise KeyMissing(path=path, what=what, member=member)
    try:
        return secret_bytes(path)
    except SettingRefused as wrong:
        raise KeyUnreadable(reason=wrong, member=member) from wrong
    except OSError as wrong:
        raise KeyUnreadable(reason=f"{path} can't be read: {wrong.strerror}.", member=member) from wrong
