"""Credentials made from the secret, by functions named for their purpose; each purpose has its own salt."""

import hashlib
import hmac
import secrets
from base64 import b32encode, urlsafe_b64encode
from uuid import UUID, uuid5


def link_for(secret: bytes, salt: str) -> str:
    """The private link (32 letters) that belongs to a salt. 192 bits: it can't be guessed."""
    return _token(secret, b"portal private link 1:", salt)


def crew_link_for(secret: bytes, salt: str) -> str:
    """The private link of a crew, as `link_for` makes one of a person; none opens what the other does."""
    return _token(secret, b"portal crew link 1:", salt)


def form_mark_for(secret: bytes, session: str) -> str:
    """The mark that a form of this session carries, so that no other site can send it."""
    return _token(secret, b"portal form mark 1:", session)


def left_form_mark_for(secret: bytes, staff_id: int, session_mark: str, address: str) -> str:
    """The mark of a form that a member of staff had pressed when their session was over, for the step after."""
    return f"{staff_id}-{_token(secret, b'portal left form 1:', f'{staff_id}:{session_mark}:{address}')}"


def event_id_for(secret: bytes, event: str) -> str:
    """The UID of an event in calendars, the same for good; of two portals in one calendar none has the other's."""
    portal = hmac.new(secret, b"portal calendar event 1", hashlib.sha256).digest()
    return str(uuid5(UUID(bytes=portal[:16]), event))


def stop_mark_for(secret: bytes, person_id: int) -> str:
    """The mark in the address that stops our mail to a person, the same for good. It can't be guessed."""
    return f"{person_id}-{_token(secret, b'portal stops mail 1:', str(person_id))}"


def stopped_by(secret: bytes, mark: str) -> int | None:
    """Whose mail this mark stops; None for any other text."""
    digits = mark.partition("-")[0]
    if not (digits.isascii() and digits.isdecimal() and len(digits) < 10):
        return None
    return int(digits) if same(mark, stop_mark_for(secret, int(digits))) else None


def letter_mark_for(secret: bytes, notice_id: int) -> str:
    """What names a letter in its Message-ID, so that nobody makes up that one came back."""
    return f"{notice_id}-{_token(secret, b'portal letter 1:', str(notice_id))[:16]}"


def staff_letter_mark_for(secret: bytes, notice_id: int) -> str:
    """The same of a letter to our own people, which no household's mark can pass for."""
    return f"{notice_id}-{_token(secret, b'portal staff letter 1:', str(notice_id))[:16]}"


def letter_named(secret: bytes, mark: str, *, to_staff: bool = False) -> int | None:
    """Which notice this mark names; None for any other text."""
    digits = mark.partition("-")[0]
    if not (digits.isascii() and digits.isdecimal() and len(digits) < 16):
        return None
    made = (staff_letter_mark_for if to_staff else letter_mark_for)(secret, int(digits))
    return int(digits) if same(mark, made) else None


def session_key(secret: bytes) -> bytes:
    """The key that signs session cookies."""
    return hmac.new(secret, b"portal session cookie 1", hashlib.sha256).digest()


def secret_digest(secret: bytes) -> str:
    """What a database keeps of the secret, to know it again. It is random, so nobody finds it from this."""
    return hmac.new(secret, b"portal secret of this database 1", hashlib.sha256).hexdigest()


def second_factor_key(secret: bytes, salt: str) -> str:
    """The key that belongs to a salt, as programs for one-time codes take it: 160 bits (RFC 4226, 4) in Base32."""
    made = hmac.new(secret, b"portal second factor 1:" + salt.encode(), hashlib.sha256).digest()
    return b32encode(made[:20]).decode()


def recovery_codes(secret: bytes, salt: str, many: int) -> list[str]:
    """The recovery codes that belong to a salt. 120 bits each, so that a plain hash of one suffices (OWASP ASVS 5.0,
    6.5.2: from 112 on), in Base32, whose letters and digits are not easily confused (RFC 4648, 6)."""
    made = (hmac.new(secret, f"portal recovery code 1:{number}:{salt}".encode(), hashlib.sha256).digest()
            for number in range(many))
    texts = (b32encode(one[:15]).decode().lower() for one in made)
    return ["-".join(text[i:i + 4] for i in range(0, 24, 4)) for text in texts]


def known_browser(secret: bytes, account: str, salt: str) -> str:
    """The mark of a browser that has signed in to this account."""
    return _token(secret, b"portal known browser 1:", f"{salt}:{account}")


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
