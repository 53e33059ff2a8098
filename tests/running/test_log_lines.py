"""A log line says what failed and where, and nothing of anybody: whatever is in the error, its text or arguments."""

import ast
import errno
import json
import logging
import sqlite3
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from portal.running.log_lines import WORDS, JsonLines
from portal.settings import SettingRefused, Settings

ROOT = Path(__file__).parents[2]
PERSONAL = ("Maren Okafor", "maren@example.org", "218-555-0161", "14 Quarry Road", "Zm9yLXRoZS1mYW1pbHktb25seQ_-123456")
"""A name, an address of each kind, a phone number, a private link."""


def line(name: str, text: Any, *args: Any, error: BaseException | None = None, **extra: Any) -> dict[str, Any]:
    exc_info = (type(error), error, error.__traceback__) if error else None
    record = logging.getLogger(name).makeRecord(name, logging.ERROR, "x.py", 1, text, args, exc_info, extra=extra)
    text = JsonLines().format(record)
    assert "\n" not in text
    found: dict[str, Any] = json.loads(text)
    return found


def raised(error: Exception, cause: BaseException | None = None) -> Exception:
    try:
        raise error from cause
    except Exception as caught:
        return caught


def test_a_line_says_when_what_where_and_of_which_request() -> None:
    found = line("portal.pages", "the page of project %s failed", 7, request="ab" * 16, route="/p/-/", status=507)
    assert found.pop("time").endswith("Z")
    assert found == {"level": "error", "from": "portal.pages", "what": "the page of project 7 failed",
                     "request": "ab" * 16, "route": "/p/-/", "status": 507}


@pytest.mark.parametrize("said", PERSONAL)
@pytest.mark.parametrize("made", [
    RuntimeError, KeyError, sqlite3.OperationalError, UnicodeError, AssertionError, ValueError,
    lambda said: OSError(errno.ENOENT, "No such file", f"/srv/{said}"),
    lambda said: raised(ValueError("x"), KeyError(said)),
    lambda said: raised(RuntimeError(said), sqlite3.IntegrityError(f"UNIQUE constraint failed: {said}")),
])
def test_what_an_error_says_is_in_no_line(made: Any, said: str) -> None:
    error = raised(made(said))
    error.add_note(said)
    found = line("portal.acts", "an act failed", error=error)
    assert said not in json.dumps(found) and found["errors"][0].split()[0] == type(error).__name__


@pytest.mark.parametrize("said", PERSONAL)
@pytest.mark.parametrize(("name", "text", "args"), [
    ("portal.acts", "kept for %s", ["{}"]), ("portal.acts", "kept for %(who)s", [{"who": "{}"}]),
    ("portal.acts", "%d of them", ["{}"]), ("gunicorn.error", "Error handling request %s", ["/p/{}/"]),
    ("gunicorn.error", "%s, %r", ["{}", ["{}"]]), ("PIL.Image", "what {} sent", []), ("root", "{}", []),
    ("urllib3", "to {}: %s", ["{}"]), ("portal.acts", ValueError("{}"), []),
    ("portal.acts", "of %s", [ValueError("{}")]),
])
def test_what_a_text_is_filled_with_is_in_no_line(name: str, text: Any, args: list[Any], said: str) -> None:
    def filled(one: Any) -> Any:
        if isinstance(one, dict | list):
            return {"who": said} if isinstance(one, dict) else [said]
        return type(one)(str(one).replace("{}", said))

    found = line(name, filled(text) if not name.startswith(("portal", "gun")) or not args else text, *map(filled, args))
    assert said not in json.dumps(found)


@pytest.mark.parametrize("said", PERSONAL[1:2] + ("Grün", "x" * 121, 'a"b', "two\nlines"))
@pytest.mark.parametrize("name", WORDS)
def test_what_a_record_brings_along_is_a_word_of_ours_or_left_out(name: str, said: str) -> None:
    assert name not in line("portal", "failed", **{name: said}) and line("portal", "failed", **{name: 3})[name] == 3
    assert "person" not in line("portal", "failed", person="Maren")


def test_an_error_is_told_by_types_codes_and_our_own_frames() -> None:
    with pytest.raises(SettingRefused) as caught:
        Settings.read({"PORTAL_SMTP": "maren@example.org"})
    found = line("portal", "failed", error=caught.value)
    (frame,) = [one for one in found["frames"] if one.endswith(" parse")]
    assert frame.startswith("portal/settings.py:") and found["errors"] == ["SettingRefused"]
    assert not [one for one in found["frames"] if "peewee" in one or "tests" in one]
    assert line("portal", "failed", error=raised(OSError(errno.ENOSPC, "x")))["errors"] == ["OSError ENOSPC"]
    with pytest.raises(sqlite3.OperationalError) as sql:
        sqlite3.connect(":memory:").execute("SELECT nothing")
    assert line("portal", "failed", error=sql.value)["errors"] == ["OperationalError SQLITE_ERROR"]


CAUGHT_BY_NOBODY = """
import logging, sys, threading
from portal.running.log_lines import log_to_stderr
log_to_stderr()
log_to_stderr()
logging.getLogger("portal.x").warning("of %s, %s", "maren@example.org", 7)
logging.getLogger("portal.accounts").info("signed in", extra={"staff": 301})
logging.getLogger("urllib3").info("not asked for")
thread = threading.Thread(target=lambda: {}["maren@example.org"])
thread.start()
thread.join()
raise ValueError("maren@example.org")
"""


def test_what_nobody_catches_is_a_line_too() -> None:
    done = subprocess.run([sys.executable, "-c", CAUGHT_BY_NOBODY], capture_output=True, text=True, timeout=60)
    lines = [json.loads(one) for one in done.stderr.splitlines()]
    assert [(one["level"], one["what"], one.get("errors")) for one in lines] == [
        ("warning", "of -, 7", None), ("info", "signed in", None), ("critical", "nobody caught an error", ["KeyError"]),
        ("critical", "nobody caught an error", ["ValueError"]),
    ]
    assert done.returncode == 1 and "maren" not in done.stderr


def test_our_own_texts_stand_in_the_source() -> None:
    """A text that is put together, with an f-string say, may hold anything."""
    levels = {"debug", "info", "warning", "error", "exception", "critical"}
    calls = [
        (path, node) for path in (ROOT / "portal").rglob("*.py") for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in levels | {"log"}
        and ast.unparse(node.func.value) in ("log", "self.log", "logging", "self.logger", "logging.getLogger('portal')")
    ]
    texts = [(path, node.args[node.func.attr == "log"]) for path, node in calls]  # type: ignore[attr-defined]
    assert len(texts) > 5
    each = [(path, one) for path, text in texts
            for one in ([text.body, text.orelse] if isinstance(text, ast.IfExp) else [text])]
    assert [str(path) for path, text in each if not isinstance(getattr(text, "value", None), str)] == []
