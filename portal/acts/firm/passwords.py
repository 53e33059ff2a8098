"""Passwords: what a new one must be, and hashing them, outside of any transaction and two at a time.

A new password has at least 15 characters, since it may be all that keeps somebody out (NIST SP 800-63B-4, 3.1.1.2),
and nothing else is asked of its letters. It is not one of those that are tried first: zxcvbn knows 30,000 common
passwords, 94,000 common words and names in all, rows of keys, dates and repetitions, and is told the person's and the
firm's words. Ones from before stay valid until they are changed. It is compared as it was typed, to its last
character (OWASP ASVS 5.0, 6.2.8), so nothing is normalised.
"""

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from portal.store.engine.slots import Slots
from portal.store.engine.tallies import tallies_folder
from portal.store.refusals import FieldRefused
from portal.store.rows.editable import first_firm

SHORTEST = 15
LONGEST = 1000
_LEAST_SCORE = 4  # of 4: at least 10,000,000,000 guesses; any four words that are no phrase have it
_LEAST_LEFT = 8
_LOOKED_AT = 72  # characters; as many as zxcvbn takes

hasher = PasswordHasher()
_slots = Slots("hash", many=2, waiting=2, seconds=10)  # each takes 64 MiB, and one thread of the service's
_NOBODY = (
    f"$argon2id$v=19$m={hasher.memory_cost},t={hasher.time_cost},p={hasher.parallelism}"
    f"${'A' * 22}${'A' * 43}"
)
"""A hash that no password is known to fit, of the same parameters: to compare with where there is no account."""


def hashed(password: str) -> str:
    """Raises Busy when too many are hashed already."""
    with _slots.taken(tallies_folder()):
        return hasher.hash(password)


def fits(password: str, password_hash: str | None) -> bool:
    """Whether this is the password. One hash is computed, whether there is an account (None: there is not) or the
    password fits or not. Raises Busy when too many are compared already."""
    with _slots.taken(tallies_folder()):
        try:
            return hasher.verify(password_hash or _NOBODY, password) and password_hash is not None
        except (VerificationError, InvalidHashError):
            return False


def check_new(password: str, name: str, email: str) -> None:
    """Raises FieldRefused where it is too short, too long, or among those that are tried first."""
    if len(password) < SHORTEST:
        raise FieldRefused("password", f"Use at least {SHORTEST} characters: four words, say, that have nothing to do "
                                       "with each other. A longer one is better, and any character will do.")
    if len(password) > LONGEST:
        raise FieldRefused("password", f"Use at most {LONGEST} characters.")
    if _tried_first(password, [name, email, first_firm().name, "portal"]):
        raise FieldRefused("password", "This is among those that are tried first: a common password, a row of keys, a "
                                       "date, or made of your name, your e-mail address or the firm’s name. Use words "
                                       "that have nothing to do with each other or with you.")


def _tried_first(password: str, context: list[str]) -> bool:
    from zxcvbn import zxcvbn  # its lists take a tenth of a second and 20 MB, which most processes never need

    parts = [text.replace("@", " ").replace(".", " ").split() for text in context]
    words = {word.casefold() for text, split in zip(context, parts, strict=True) for word in [text, *split] if word}
    found = zxcvbn(password[:_LOOKED_AT], user_inputs=sorted(words))
    return int(found["score"]) < _LEAST_SCORE or _left_over(password, words) < _LEAST_LEFT


def _left_over(password: str, words: set[str]) -> int:
    """How many letters and digits of a password are left when these words are taken out; where none is in it, all."""
    left = password.casefold()
    for word in sorted(words, key=len, reverse=True):
        left = left.replace(word, "") if len(word) > 2 else left
    return len(password) if left == password.casefold() else sum(letter.isalnum() for letter in left)
