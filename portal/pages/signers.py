"""Whose link it is, and what was typed there as a name. A link is the only credential: both are said where they
differ."""

from collections.abc import Iterable

from portal.store.facts import ApprovalFact, PersonFact
from portal.words.names import same_name


def signer_words(holder: str, typed: str) -> str:
    """`Maren Okafor`, or `Maren Okafor, who typed “M. Oak”,` where another name was typed (the sentence goes on)."""
    return typed if not holder or same_name(typed, holder) else f"{holder}, who typed “{typed}”,"


def signed_by(approval: ApprovalFact, people: Iterable[PersonFact]) -> str:
    """Who approved. Of someone who is no longer of the household, what they typed."""
    holder = next((person.name for person in people if person.id == approval.person_id), "")
    return signer_words(holder, approval.name)


def already_words(option: str, when: str) -> str:
    """What to say to whoever approved this option themselves, and approves once more. `when` in words."""
    return f"You have approved “{option}” already, on {when}. That stands until you take it back."


def doubt(holder: str, typed: str) -> str:
    """What to ask of whoever typed a name that may not be the holder's (words.names.doubtful)."""
    return (
        f"This is the link of {holder}, and you typed “{typed}”. If you are {holder} and sign this way, press the "
        "button once more. If you are someone else, please use the link that we sent to you."
    )
