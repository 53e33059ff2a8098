"""What `portal verify --held` is given: files that somebody holds, and what each says about the records here."""

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from pathlib import Path

from portal.acts.keeping.held_heads import Disagreement, disagreements
from portal.record.checking.returned_files import heads_in
from portal.record.log.heads import Head, SignedHead, key_name
from portal.record.verdict import Verdict
from portal.store.refusals import FieldRefused
from portal.words.plurals import counted, plural


@dataclass(frozen=True, slots=True)
class Held:
    """`signed` heads are those of receipts, copies and letters; `noted` those of a backup, which nobody signs."""

    path: Path
    signed: Sequence[SignedHead] = ()
    noted: Sequence[Head] = ()

    def says_more(self, ours: Collection[SignedHead]) -> bool:
        """Whether there is more to say of it than what the verdict on the project's record says."""
        return bool(self.noted) or any(head not in ours for head in self.signed)


def held_in(path: Path, projects: Collection[int], read: Callable[[Path], bytes]) -> Held:
    """Read what a file holds. A head of a project that is not checked here would say nothing; of a backup, which holds
    all projects, those that are checked count. Raises FieldRefused, or what is wrong with a backup."""
    from portal.backup.held import heads_held
    from portal.backup.refusals import NoBackup

    try:
        return Held(path, noted=[head for head in heads_held(path) if len(projects) > 1 or head.project in projects])
    except NoBackup:
        found = heads_in(read(path))
    if not found:
        raise FieldRefused("held", f"{path} holds no signed head. Name the file of a receipt, a record, a copy, a "
                                   "letter or a backup.")
    other = next((head.head.project for head in found if head.head.project not in projects), None)
    if other is not None:
        raise FieldRefused("held", f"{path} is of project {other}, which is not among those that are checked here.")
    return Held(path, found)


def held_verdict(held: Held, keys: Collection[str], key: str) -> Verdict:
    """What a file says that is no fault of a record; and whether the records begin with what a backup noted. `keys`:
    all that ever signed here; `key`: the one that does now."""
    for signed in held.signed:
        if not signed.holds:
            return Verdict((), "its signature does not hold: the file was changed. The record here is not at fault.")
        if signed.public_key not in keys:
            other = key_name(signed.public_key)
            return Verdict((), f"it is not signed by this firm's key, {key_name(key)}, but by {other}, which never "
                               "signed here. The record here is not at fault. But if the firm's papers name that key, "
                               "this record was put in the place of another.")
    wrong = disagreements(held.noted)
    hold = len(held.noted) - len(wrong)
    said = f"It notes {counted(len(held.noted), 'record')}, of which {hold} {plural(hold, 'begins', 'begin')} as noted."
    return Verdict((said,), disagreement_words(wrong[0]) if wrong else None)


def disagreement_words(found: Disagreement) -> str:
    """Say how a record is no longer what somebody holds of it."""
    was = f"{counted(found.held.size, 'entry', 'entries')} on {found.held.at}"
    if found.what == "shorter":
        return (f"the record of project {found.held.project} has become shorter: it had {was}, and has {found.size} "
                "now. Its end was cut off.")
    return (f"the record of project {found.held.project} had {was}, and no longer begins with them: it was changed or "
            "written anew.")
