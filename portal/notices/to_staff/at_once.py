"""A letter that is handed over while somebody waits for the answer: the firm's own, about no house.

It is tried once. Whoever pressed the button reads what the mail server said, and has another way.
"""

import logging
from urllib.parse import urlsplit

from portal import signing
from portal.notices.letter import Letter, wrapped_text
from portal.notices.message import BadAddress, Envelope, address_of, message_of
from portal.notices.post import NotHandedOver, Post, Waits
from portal.notices.reading_back import NotAsMeant
from portal.settings import Settings
from portal.store.facts import FirmFact

log = logging.getLogger(__name__)

AT_ONCE = Waits(command=10, data=10, block=10, end_of_data=15, good_bye=2, before_the_end=20)
"""Shorter than RFC 5321 has it: a person waits. A server that is slower takes letters from the tick all the same."""


def sends_mail(settings: Settings, firm: FirmFact) -> bool:
    """Whether there is a mail server, and an address of the firm that letters come from."""
    return settings.smtp is not None and bool(firm.email)


def send_at_once(settings: Settings, firm: FirmFact, letter: Letter, name: str, email: str, now: int) -> str:
    """Empty where the mail server took it; else what was wrong, in its words. Only where `sends_mail`."""
    host = urlsplit(settings.base_url).hostname or "localhost"
    assert settings.smtp is not None, "asked before: sends_mail"
    try:
        envelope = Envelope(address_of(firm.name, firm.email), address_of(name, email), signing.new_salt(), host)
        text = wrapped_text([f"Hello {name},", *letter.paragraphs, firm.name])
        message = message_of(letter, text, envelope, now)
        with Post(settings.smtp, host, AT_ONCE) as post:
            post.hand_over(message, firm.email, email)
    except (NotHandedOver, BadAddress, NotAsMeant) as trouble:
        log.warning("a letter could not be sent at once", extra={"reason": str(trouble)})
        return str(trouble)
    return ""
