"""What the schemas say to programs, in the words of the desk."""

import re

_WORDS = {
    "Missing data for required field.": "Please fill this in.",
    "Field may not be null.": "Please fill this in.",
    "Not a valid date.": "Give a date, such as 2026-12-04.",
    "Not a valid integer.": "Give a whole number.",
    "Not a valid number.": "Give a number.",
    "Not a valid email address.": "Give an e-mail address.",
    "Unknown field.": "This form has no such field.",
}
_SHAPES = [
    (re.compile(r"Longer than maximum length (\d+)\."), r"This is too long: at most \1 letters."),
    (re.compile(r"Length must be between 1 and (\d+)\."), r"Give at least one and at most \1 letters."),
    (re.compile(r"Shorter than minimum length \d+\."), "Please fill this in."),
    (
        re.compile(r"Must be greater than or equal to (\S+) and less than or equal to (\S+)\."),
        r"Give a number from \1 to \2.",
    ),
    (re.compile(r"Must be one of: .*"), "Choose one of those offered."),
]


def plain(message: str) -> str:
    if message in _WORDS:
        return _WORDS[message]
    for shape, words in _SHAPES:
        if shape.fullmatch(message):
            return shape.sub(words, message)
    return message
