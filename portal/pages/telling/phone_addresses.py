"""Addresses that open the phone's own messages or mail with the words ready: no gateway, nothing is sent from here.

`sms:` is RFC 5724, `mailto:` RFC 6068; what stands in them is percent-encoded UTF-8 (RFC 3986), a line break is %0D%0A.

"""

from functools import lru_cache
from urllib.parse import quote

_UNRESERVED = "-._~"
_IN_LOCAL_PART = "!$'*+-._~"  # RFC 6068, 2: some-delims that mean nothing else in a mailto address


@lru_cache(maxsize=512)
def telephone(number: str) -> str:
    """Give the number as a tel: address takes it (RFC 3966): digits and a plus sign."""
    return "".join(c for c in number if (c.isascii() and c.isdigit()) or c == "+")


def sms_address(number: str, words: str) -> str:
    """Give the address that opens a text message to this number, with these words in it. Empty for no number."""
    to = telephone(number)
    return f"sms:{to}?body={_encoded(words)}" if to else ""


def mail_address(address: str, subject: str, words: str) -> str:
    """Give the address that opens a letter to this e-mail address, with subject and words. Empty for no address."""
    local, at, domain = address.strip().rpartition("@")
    if not at:
        return ""
    to = f"{quote(local, safe=_IN_LOCAL_PART)}@{quote(domain, safe=_UNRESERVED)}"
    return f"mailto:{to}?subject={_encoded(subject)}&body={_encoded(words)}"


@lru_cache(maxsize=512)
def _encoded(text: str) -> str:
    """The same words go to each person of a house, by text and by mail."""
    return quote("\r\n".join(text.splitlines()), safe=_UNRESERVED)
