"""What the environment says: where things lie, and under which address the portal is reached."""

import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path


@dataclass(frozen=True)
class Settings:
    """`PORTAL_DATA` holds everything that a backup needs, unless the other settings point elsewhere."""

    data: Path
    database: str
    base_url: str
    smtp: str
    secret_file: Path

    @classmethod
    def read(cls, environment: Mapping[str, str] = os.environ) -> "Settings":
        data = Path(environment.get("PORTAL_DATA", "var")).resolve()
        return cls(
            data=data,
            database=environment.get("PORTAL_DATABASE", str(data / "portal.db")),
            base_url=environment.get("PORTAL_BASE_URL", "http://127.0.0.1:8080").rstrip("/"),
            smtp=environment.get("PORTAL_SMTP", ""),
            secret_file=Path(environment.get("PORTAL_SECRET_FILE", data / "secret")),
        )

    @property
    def site(self) -> Path:
        """The published pages: `p/<link>` points to `pages/<project id>`."""
        return self.data / "site"

    @cached_property
    def record_key(self) -> bytes:
        """The 32 bytes of the Ed25519 key that signs the heads of records, made at the first start."""
        return _hex_file(self.data / "record-key")

    @cached_property
    def secret(self) -> bytes:
        """32 bytes, made at the first start. Without this file no link or session can be made or checked."""
        return _hex_file(self.secret_file)


def _hex_file(path: Path) -> bytes:
    """32 secret bytes, kept as 64 hex digits in a file that only we may read."""
    if not path.exists():
        _create(path)
    found = bytes.fromhex(path.read_text().strip())
    if len(found) != 32:
        raise ValueError(f"{path} must hold 64 hex digits")
    return found


def _create(path: Path) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return
    with os.fdopen(handle, "w") as file:
        file.write(secrets.token_hex(32) + "\n")
