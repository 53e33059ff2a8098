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
    def secret(self) -> bytes:
        """32 bytes, made at the first start. Without this file no link or session can be made or checked."""
        if not self.secret_file.exists():
            _create_secret(self.secret_file)
        secret = bytes.fromhex(self.secret_file.read_text().strip())
        if len(secret) < 32:
            raise ValueError(f"{self.secret_file} is too short; it must hold 64 hex digits")
        return secret


def _create_secret(path: Path) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return
    with os.fdopen(handle, "w") as file:
        file.write(secrets.token_hex(32) + "\n")
