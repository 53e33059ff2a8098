"""What a backup says about itself: its form, when and of what it was made, and each member with its checksum."""

import json
from dataclasses import asdict, dataclass
from typing import Any

from portal.backup.refusals import Altered, MadeByNewer

NAME = "backup.json"
FORM = 1


@dataclass(frozen=True, slots=True)
class Member:
    name: str
    size: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Manifest:
    """`database` is sqlite or postgresql; `migrations` are those that it has had."""

    made_at: str
    database: str
    migrations: tuple[str, ...]
    base_url: str
    members: tuple[Member, ...]

    def to_json(self) -> bytes:
        return json.dumps({"portal_backup": FORM} | asdict(self), indent=1).encode()


def read_manifest(data: bytes, path: str) -> Manifest:
    """Raises MadeByNewer, Altered; `path` is what people call the backup."""
    try:
        found: dict[str, Any] = json.loads(data)
        form = int(found.pop("portal_backup"))
        if form > FORM:
            raise MadeByNewer(path=path, what=f"its form is {form}, and this one knows {FORM}")
        members = tuple(Member(**member) for member in found.pop("members"))
        manifest = Manifest(members=members, migrations=tuple(found.pop("migrations")), **found)
        _check_types(manifest)
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        raise Altered(path=path, member=NAME, reason="it can't be read") from error
    return manifest


def _check_types(manifest: Manifest) -> None:
    words = [manifest.made_at, manifest.database, manifest.base_url, *manifest.migrations]
    words += [word for member in manifest.members for word in (member.name, member.sha256)]
    if not all(isinstance(word, str) for word in words) or any(type(m.size) is not int for m in manifest.members):
        raise TypeError("a value of another type")
