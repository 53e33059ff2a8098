"""Credentials made from the secret, by functions named for their purpose; each purpose has its own salt."""

import hashlib
import hmac
import secrets
from base64 import urlsafe_b64encode
from uuid import UUID, uuid5


def link_for(secret: bytes, salt: str) -> str:
    """The private link (32 letters) that belongs to a salt. 192 bits: it can't be guessed."""
    return _token(secret, b"portal private link 1:", salt)


def form_mark_for(secret: bytes, session: str) -> str:
    """The mark that a form of this session carries, so that no other site can send it."""
    return _token(secret, b"portal form mark 1:", session)


def event_id_for(secret: bytes, event: str) -> str:
    """The UID of an event in calendars, the same for good; of two portals in one calendar none has the other's."""
    portal = hmac.new(secret, b"portal calendar event 1", hashlib.sha256).digest()
    return str(uuid5(UUID(bytes=portal[:16]), event))


def session_key(secret: bytes) -> bytes:
    """The key that signs session cookies."""
    return hmac.new(secret, b"portal session cookie 1", hashlib.sha256).digest()


def new_salt() -> str:
    return secrets.token_hex(16)


def new_bearer() -> str:
    """A new API token; only its digest is kept."""
    return secrets.token_urlsafe(32)


def digest(credential: str) -> str:
    """What is kept of a link or token. They are long and random, so a plain hash suffices (no password is kept so)."""
    return hashlib.sha256(credential.encode()).hexdigest()


def same(one: str, other: str) -> bool:
    return hmac.compare_digest(one.encode(), other.encode())


def _token(secret: bytes, purpose: bytes, salt: str) -> str:
    made = hmac.new(secret, purpose + salt.encode(), hashlib.sha256).digest()
    return urlsafe_b64encode(made[:24]).decode()
