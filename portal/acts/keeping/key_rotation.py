"""Another key for the heads of all records. Each record tells it in an entry that both keys signed.

The new key is on disk before any record names it, and it takes the old one's place after all of them do. Whatever
happens in between, doing it again finishes it.
"""

from portal.acts.actor import OPERATOR
from portal.acts.entries import keep
from portal.record.log.canonical import read
from portal.record.log.entry_kinds import ROTATED
from portal.record.log.heads import Signer
from portal.record.log.rotation import rotation
from portal.settings import Settings, secret_bytes
from portal.store.engine.database import touch, write
from portal.store.engine.disk import sync_folder
from portal.store.rows import project_rows, record_rows
from portal.words.dates import utc_text


def rotate_key(settings: Settings, now: int) -> list[int]:
    """Have a new key sign from here on. Returns the projects whose record tells it now.

    Stop the service first: until the new key is in place, it would sign records that name the new one with the old.
    """
    path = settings.record_key_file
    following = path.with_name(f"{path.name}.next")
    old, new = Signer(settings.record_key), Signer(secret_bytes(following))
    with write():
        told = [project for project in project_rows.all_ids() if _tell(project, old, new, now)]
    following.replace(path)
    sync_folder(path.parent)
    return told


def _tell(project_id: int, old: Signer, new: Signer, now: int) -> bool:
    """An empty record needs no word: the first head names its key."""
    touch(project_id)
    if not record_rows.count(project_id) or _key_told(project_id) == new.public_key:
        return False
    keep(OPERATOR, project_id, ROTATED, rotation(old, new, utc_text(now)), now)
    return True


def _key_told(project_id: int) -> str | None:
    newest = record_rows.newest_of_kind(project_id, ROTATED)
    return None if newest is None else str(read(newest)["body"]["new_key"])
