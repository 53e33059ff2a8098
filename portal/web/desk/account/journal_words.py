"""What was done to accounts, in words."""

from portal.store.tables import AccountEntry

_DONE = {
    "added": "The account was made.",
    "came_back": "The account was opened again.",
    "changed": "Name, address or role were changed.",
    "way_in_made": "A link to set a password was made.",
    "password_set_by_link": "The password was set by a link, and everything that was signed in was signed out.",
    "session_ended": "One phone or computer was signed out.",
    "token_made": "An API token was made.",
    "token_ended": "An API token was ended.",
    "removed": "The account was ended, with all that was signed in.",
    "password_set": "A new password was set, and everything that was signed in was signed out.",
    "password_changed": "The password was changed, and everything else that was signed in was signed out.",
    "signed_out": "Everything that was signed in was signed out.",
    "signed_out_everywhere": "Everything that was signed in was signed out.",
    "tokens_ended": "Everything that was signed in was signed out, and all API tokens ended.",
    "second_factor_set_up": "A second factor was set up.",
    "second_factor_dropped": "The second factor was taken away.",
    "second_factor_taken_away": "The second factor was taken away, and everything that was signed in was signed out.",
    "codes_renewed": "New recovery codes were made.",
    "recovery_code_used": "A recovery code was used to sign in.",
    "demand_on": "From now on, everybody needs a second factor.",
    "demand_off": "From now on, nobody needs a second factor.",
}
_ABOUT = {"changed": "before: ", "token_made": "", "token_ended": ""}
"""Kinds whose note is said, and what stands before it."""


def done_words(entry: AccountEntry) -> str:
    words = _DONE.get(entry.kind, entry.kind.replace("_", " "))
    return f"{words} ({_ABOUT[entry.kind]}{entry.note})" if entry.note and entry.kind in _ABOUT else words


def by_words(entry: AccountEntry, names: dict[int, str]) -> str:
    """Who did it; nobody's name where it was on the server."""
    return "On the server" if entry.by_id is None else names.get(entry.by_id, "Somebody who is gone")
