"""Another key for the heads of all records. Each record tells it in an entry that both keys signed.

The new key is on disk before any record names it, and it takes the old one's place after all of them do. Whatever
happens in between, doing it again finishes it.
"""

from contextlib import suppress

from portal.acts.actor import OPERATOR
from portal.acts.entries import keep
from portal.acts.keeping.own_keys import check_keys, signer
from portal.record.log.entry_kinds import ROTATED
from portal.record.log.heads import Signer
from portal.record.log.rotation import rotation
from portal.settings import Settings, made_once
from portal.store.engine.database import take_turns, touch, write
from portal.store.engine.disk import sync_folder
from portal.store.rows import project_rows, record_rows
from portal.words.dates import utc_text


def rotate_key(settings: Settings, now: int) -> list[int]:
    """Have a new key sign from here on. Returns the projects whose record tells it now. Raises what is wrong with the
    keys that are there.

    Stop the service first: what it signs while the key changes could carry the old key under the new one's entry.
    """
    check_keys(settings)
    following = settings.next_record_key_file
    new = Signer(made_once(following))
    with write():
        take_turns("keys")
        old, kept = signer(settings), record_rows.kept_keys()
        assert kept is not None
        told: list[int] = []
        if kept.record_key != new.public_key:  # else all of it is told, and the key only has to take its place
            told = [project for project in project_rows.all_ids() if _tell(project, old, new, now)]
            record_rows.keep_keys(kept._replace(record_key=new.public_key))
    with suppress(FileNotFoundError):  # another one, at the same time, has done it
        following.replace(settings.record_key_file)
    sync_folder(settings.data)
    return told


def _tell(project_id: int, old: Signer, new: Signer, now: int) -> bool:
    """An empty record needs no word: the first head names its key."""
    touch(project_id)
    if not record_rows.count(project_id):
        return False
    keep(OPERATOR, project_id, ROTATED, rotation(old, new, utc_text(now)), now)
    return True
