"""Whether the script that keeps forms on a phone asks (static/desk), and in which sentences it was refused."""

from flask import g, request

HEAD = "X-By-Script"


def is_by_script() -> bool:
    return HEAD in request.headers


def note_refused(sentences: list[str]) -> None:
    """The script keeps them with the form: nobody looks at the page that says them."""
    g.refused_with = sentences


def refused_with() -> list[str]:
    found: list[str] = g.get("refused_with", [])
    return found
