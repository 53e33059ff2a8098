"""What a backup says about itself: its form, when and of what it was made, and each member with its checksum."""

import json
from dataclasses import asdict, dataclass, fields
from typing import Any

from portal.backup.refusals import Altered, MadeByNewer
from portal.record.log.heads import Head

NAME = "backup.json"
FORM = 2


@dataclass(frozen=True, slots=True)
class Member:
    name: str
    size: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Manifest:
    """`database` is sqlite or postgresql; `migrations` are those that it has had. `heads`: how many entries each record
    had when it was begun, and the root over them; None in one of form 1, which did not note that. `missing` and
    `changed` are photos that it should have and has not, or not as they were kept: then it is incomplete."""

    made_at: str
    database: str
    migrations: tuple[str, ...]
    base_url: str
    members: tuple[Member, ...]
    heads: tuple[Head, ...] | None = None
    missing: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()

    def to_json(self) -> bytes:
        """A line for each member and each record, put together one by one: there may be thousands."""
        lists = {
            "members": (asdict(one) for one in self.members), "heads": (asdict(one) for one in self.heads or ()),
            "missing": self.missing, "changed": self.changed,
        }  # fmt: skip
        plain = {"portal_backup": FORM} | {
            one.name: getattr(self, one.name) for one in fields(self) if one.name not in lists
        }
        lines = [f"{json.dumps(name)}: {json.dumps(value)}" for name, value in plain.items()]
        lines += [
            f"{json.dumps(name)}: [" + ",\n ".join(json.dumps(one) for one in listed) + "]"
            for name, listed in lists.items()
        ]
        return ("{" + ",\n".join(lines) + "}").encode()


def read_manifest(data: bytes, path: str) -> Manifest:
    """Raises MadeByNewer, Altered; `path` is what people call the backup."""
    try:
        found: dict[str, Any] = json.loads(data)
        form = int(found.pop("portal_backup"))
        if form > FORM:
            raise MadeByNewer(path=path, what=f"its form is {form}, and this one knows {FORM}")
        members = tuple(Member(**member) for member in found.pop("members"))
        heads = None if form < 2 else tuple(Head(**head) for head in found.pop("heads"))
        lists = [name for name in ("migrations", "missing", "changed") if name in found]
        listed: dict[str, Any] = {name: tuple(found.pop(name)) for name in lists}
        manifest = Manifest(members=members, heads=heads, **listed, **found)
        _check_types(manifest)
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        raise Altered(path=path, member=NAME, reason="it can't be read") from error
    return manifest


def _check_types(manifest: Manifest) -> None:
    words = [manifest.made_at, manifest.database, manifest.base_url, *manifest.migrations]
    words += [*manifest.missing, *manifest.changed]
    words += [word for member in manifest.members for word in (member.name, member.sha256)]
    words += [word for head in manifest.heads or () for word in (head.root, head.at)]
    numbers = [member.size for member in manifest.members]
    numbers += [number for head in manifest.heads or () for number in (head.project, head.size)]
    if not all(isinstance(word, str) for word in words) or any(type(number) is not int for number in numbers):
        raise TypeError("a value of another type")
