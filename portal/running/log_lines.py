"""What is logged, as one JSON object a line on standard error, for journald: what happened, where in our source, and no
personal data.

So nothing is taken out of a record; only what is known to be harmless is put in: the text as it stands in the source,
numbers, the words named in WORDS, the types of errors with their codes and our own frames. What an error says may quote
what was sent, and is left out; so is a text that another library has put together.
"""

import json
import logging
import re
import sys
import threading
import traceback
from collections.abc import Iterator
from datetime import UTC, datetime
from errno import errorcode
from pathlib import Path
from types import TracebackType
from typing import Any

WORDS = (
    "request", "route", "method", "status", "kind", "code", "notice", "project", "tries", "seconds", "staff",
    "sessions", "tokens", "second_factor", "limit", "wait",
)
"""What a record may bring along (`extra=`): numbers, and words of our own."""

_WORD = re.compile(r"[\w./<>:, -]{0,120}", re.ASCII)
_OURS = ("portal", "gunicorn")
_PACKAGE = Path(__file__).parents[1]
_FRAMES = 12
_LONGEST_CHAIN = 5


class JsonLines(logging.Formatter):
    """Formats a record as one line of JSON."""

    def format(self, record: logging.LogRecord) -> str:
        when = datetime.fromtimestamp(record.created, UTC)
        line = {
            "time": f"{when:%Y-%m-%dT%H:%M:%S}.{when.microsecond // 1000:03}Z",
            "level": record.levelname.lower(), "what": _what(record), "from": record.name,
            **{name: value for name in WORDS if (value := _harmless(vars(record).get(name))) is not None},
        }
        if record.exc_info and record.exc_info[1] is not None:
            line |= described(record.exc_info[1])
        return json.dumps(line)


def described(error: BaseException) -> dict[str, Any]:
    """An error without what it says: types and codes, the last first, and our frames, the innermost last."""
    chain = list(_chain(error))
    frames = list(dict.fromkeys(frame for one in chain for frame in _frames(one)))
    return {"errors": [_named(one) for one in chain], "frames": frames[-_FRAMES:]}


def log_to_stderr() -> None:
    """From now on all that is logged, and what nobody has caught, goes to standard error in such lines. Once."""
    if logging.getLogger().handlers:
        return
    handler = _ToStderr()
    handler.setFormatter(JsonLines())
    logging.getLogger().addHandler(handler)
    logging.getLogger("portal").setLevel(logging.INFO)  # who signs in and out is told at that level
    sys.excepthook = _uncaught
    threading.excepthook = lambda args: _uncaught(args.exc_type, args.exc_value, args.exc_traceback)


class _ToStderr(logging.StreamHandler[Any]):
    """Whatever standard error is when something is logged."""

    def __init__(self) -> None:
        logging.Handler.__init__(self)

    @property
    def stream(self) -> Any:
        return sys.stderr


def _uncaught(kind: type[BaseException], error: BaseException | None, at: TracebackType | None) -> None:
    if error is None or issubclass(kind, KeyboardInterrupt | SystemExit):
        return
    logging.getLogger("portal").critical("nobody caught an error", exc_info=(kind, error, at))


def _what(record: logging.LogRecord) -> str:
    text = record.msg if isinstance(record.msg, str) else type(record.msg).__name__
    if record.name.split(".")[0] not in _OURS:
        return "-"
    if not record.args:
        return text
    given = record.args
    try:
        if isinstance(given, dict):
            return text % {name: _number(value) for name, value in given.items()}
        return text % tuple(_number(value) for value in given)
    except (TypeError, ValueError, KeyError):
        return text


def _number(value: object) -> Any:
    return value if isinstance(value, int | float) else "-"


def _harmless(value: object) -> Any:
    if isinstance(value, int | float):
        return value
    return value if isinstance(value, str) and _WORD.fullmatch(value) else None


def _chain(error: BaseException) -> Iterator[BaseException]:
    here: BaseException | None = error
    for _ in range(_LONGEST_CHAIN):
        if here is None:
            return
        yield here
        here = here.__cause__ or here.__context__


def _named(error: BaseException) -> str:
    """With the code that a system or a database gives, which quotes nothing."""
    code = ""
    if isinstance(error, OSError):
        code = errorcode.get(error.errno or 0, "")
    elif re.fullmatch(r"SQLITE_\w+", str(getattr(error, "sqlite_errorname", None))):
        code = error.sqlite_errorname  # type: ignore[attr-defined]
    elif re.fullmatch(r"[0-9A-Z]{5}", str(getattr(error, "sqlstate", None))):  # psycopg's
        code = error.sqlstate  # type: ignore[attr-defined]
    return f"{type(error).__name__} {code}".rstrip()


def _frames(error: BaseException) -> Iterator[str]:
    for frame in traceback.extract_tb(error.__traceback__):
        path = Path(frame.filename)
        if path.is_relative_to(_PACKAGE):
            yield f"portal/{path.relative_to(_PACKAGE)}:{frame.lineno} {frame.name}"
