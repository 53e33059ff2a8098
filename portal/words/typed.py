"""What a text that someone typed may hold. One place for both skins: schemas, acts and the command ask here.

What a reader approves must be what is kept, so what can't be seen is not kept:

- Control characters (Unicode category Cc) are refused, but for line breaks and tabs where a text has several lines.
  So are halves of a pair and noncharacters, which no database, PDF or drawing can hold.
- Characters that turn the direction of writing from there on (embeddings, overrides, isolates: UAX #9, 2.1 to 2.4) are
  taken out. With them “drill 3” can be shown as “3 llird”, and a name can rearrange the sentence that it stands in
  (UTS #55, 2.2, and 5.1 on taking out what is not needed). They are not refused: phones put them around a number that
  is copied from the contacts, and nobody can see what they are asked to delete. Marks (U+200E, U+200F, U+061C) stay:
  they turn nothing around, and Arabic and Hebrew need them.
- Letters are composed (NFC, UAX #15): “é” is the same letter from each phone, and is found. What is in the record
  already is left as it was signed.
"""

import re
import unicodedata

_TURNS = re.compile("[\u202a-\u202e\u2066-\u2069]")
_NONCHARACTERS = "\ufdd0-\ufdef" + "".join(map(chr, (end for end in range(0x110000) if end & 0xFFFE == 0xFFFE)))
_UNSEEN = re.compile(f"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff{_NONCHARACTERS}]")
_NOT_IN_LINES = r"\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ufdd0-\ufdef\ufffe\uffff"
_NOT_IN_A_LINE = r"\x00-\x1f\x7f-\x9f\u2028\u2029\ufdd0-\ufdef\ufffe\uffff"
_SAYS_NOTHING = r"\s\xad\u0300-\u036f\u115f\u1160\u200b-\u200f\u202a-\u202e\u2060-\u2069\u2800\u3164\ufeff\uffa0"
_BREAKS = re.compile("\r\n|[\r\u2028\u2029]")
_BLANK = frozenset("\u115f\u1160\u2800\u3164\uffa0")
"""Letters and a symbol by category, but nothing is to be seen: Hangul fillers, and braille without dots."""

LONGEST_ADDRESS, _LONGEST_LOCAL = 254, 64  # RFC 5321, 4.5.3.1: a path of 256 octets with its < and >
_ATOM = r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+"
_LOCAL = re.compile(r"[a-z0-9!#$%&'*+/=?^_`{|}~-]+(\.[a-z0-9!#$%&'*+/=?^_`{|}~-]+)*", re.I)
_LABEL = "[A-Za-z0-9]([A-Za-z0-9-]{0,61}[A-Za-z0-9])?"
ADDRESS_PATTERN = fr"{_ATOM}(\.{_ATOM})*@({_LABEL}\.)+{_LABEL}"
"""An e-mail address as a pattern of ECMA-262; how long its parts may be stands in `email`."""
_DOMAIN = re.compile(r"(?=.{1,253}$)([a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?\.)+[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?", re.I)


class NotText(ValueError):
    """Says in a sentence what is wrong with it, and where."""


def line(text: str) -> str:
    """Turn a typed text into one line as it is kept: composed letters, no turns of direction. Raises NotText for a line
    break or a tab in it, and for what `lines` refuses."""
    text = lines(text)
    broken = re.search(r"[\n\t]", text)
    if broken:
        what = "a tab" if broken[0] == "\t" else "a line break"
        raise NotText(f"This is one line, but there is {what} {_where(text, broken.start())}. Put a space there.")
    return text


def lines(text: str) -> str:
    """Turn a typed text into one of several lines as it is kept: composed letters, no turns of direction, a line feed
    between lines. Raises NotText for control characters, halves of a pair and noncharacters, with their place."""
    text = _BREAKS.sub("\n", _TURNS.sub("", text))
    unseen = _UNSEEN.search(text)
    if unseen:
        code = f"U+{ord(unseen[0]):04X}"
        raise NotText(f"There is a character that can’t be seen ({code}) {_where(text, unseen.start())}. Take it out.")
    return unicodedata.normalize("NFC", text)


def only_lines(text: str) -> str:
    """Take out of a text whatever `lines` refuses or takes out: of one that nobody can be asked to mend."""
    return _UNSEEN.sub("", _BREAKS.sub("\n", _TURNS.sub("", text)))


def seen(text: str) -> int:
    """Count the characters that can be seen: not spaces, nor what has no width, nor marks that stand on nothing."""
    return sum(unicodedata.category(c)[0] in "LNPS" and c not in _BLANK for c in text)


def legible(text: str) -> str:
    """Show a refused text in its form again: what can't be seen stands there as U+FFFD, so that it can be found."""
    return _UNSEEN.sub("\ufffd", text)


def full_name(text: str) -> str:
    """Turn a name that was typed to confirm into one line with single spaces; a line break counts as one. Raises
    NotText for what `lines` refuses."""
    return line(" ".join(lines(text).split()))


def whole(value: object) -> object:
    """Turn JSON (what json.loads gives) into the same with each text in it as `lines` keeps it, each name of a
    field as `line` does. Numbers, true, false and null stay. Raises NotText."""
    if isinstance(value, str):
        return lines(value)
    if isinstance(value, list):
        return [whole(one) for one in value]
    return {line(str(name)): whole(one) for name, one in value.items()} if isinstance(value, dict) else value


def pattern(of_lines: bool, says_something: bool) -> str:
    """Give what `line` (or `lines`) takes as a pattern of ECMA-262, for readers of a description; with `says_something`
    one that has a character to be seen, as nearly as such a pattern can tell."""
    refused = _NOT_IN_LINES if of_lines else _NOT_IN_A_LINE
    seen_once = f"[^{refused}{_SAYS_NOTHING}][^{refused}]*" if says_something else ""
    return f"^[^{refused}]*{seen_once}$"


def email(text: str) -> str:
    """Take one e-mail address, without a name beside it, as mail servers everywhere take it; spaces around it go, and
    letters stay as large or small as they are. Raises NotText with what is wrong with it.

    RFC 5321, 4.1.2: a dot-string, and a domain of letters, digits and hyphens. Quoted and foreign local parts (RFC
    6531) are left out: few servers take them, and a notice that never arrives helps nobody.
    """
    text = line(text).strip()
    local, at, domain = text.rpartition("@")
    if not at:
        raise NotText("An e-mail address has an @ in it, such as name@example.com.")
    if re.search(r"[,;<>]|@.*@", text):
        raise NotText("Give one e-mail address alone, such as name@example.com.")
    if re.search(r"\s", text):
        raise NotText("An e-mail address has no spaces in it.")
    if len(text) > LONGEST_ADDRESS or len(local) > _LONGEST_LOCAL:
        raise NotText("This is too long for an e-mail address.")
    if not text.isascii():
        raise NotText("Use only plain letters (a to z), digits and signs in an e-mail address.")
    if not _LOCAL.fullmatch(local) or not _DOMAIN.fullmatch(domain):
        raise NotText("Give a whole e-mail address, such as name@example.com.")
    return text


def _where(text: str, at: int) -> str:
    before = " ".join(text[:at].split())[-20:]
    return f"after “{before}”" if before else "at the beginning"
