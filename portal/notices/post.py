"""Hands mails over to the mail server (SMTP, RFC 5321), over one connection as long as it holds."""

import contextlib
import re
import smtplib
import ssl
from dataclasses import dataclass
from types import TracebackType
from typing import Any

from portal.notices.deadline import Deadline
from portal.notices.letter import one_line
from portal.settings import MailServer

_MINUTE = 60.0
_BLOCK = 64 * 1024  # bytes
_TO_BE_DELIVERED = (250, 251)
_TROUBLE = (smtplib.SMTPException, OSError)
_REFUSED = (smtplib.SMTPRecipientsRefused, smtplib.SMTPResponseException)


@dataclass(frozen=True, slots=True)
class Waits:
    """How many seconds we wait for each answer of the server (RFC 5321, 4.5.3.2), the RFC's least.

    A server that sends a byte every few minutes keeps within each of them, so there is a longest time, too, for all
    that stands before the end of the data. What comes after it has its whole ten minutes: a server that had taken the
    mail and was not heard would get it a second time.
    """

    command: float = 5 * _MINUTE
    data: float = 2 * _MINUTE
    block: float = 3 * _MINUTE
    end_of_data: float = 10 * _MINUTE
    good_bye: float = 10.0
    before_the_end: float = 20 * _MINUTE

    @property
    def longest(self) -> float:
        """How long one letter can hold us, with connecting and the good-byes."""
        return self.before_the_end + self.end_of_data + 2 * self.good_bye


WAITS = Waits()


class NotHandedOver(Exception):
    """The server did not take it; says why. `for_good`: it said that it never will deliver to this address (5yz)."""

    def __init__(self, why: str, for_good: bool = False) -> None:
        super().__init__(why)
        self.for_good = for_good


class Unreachable(NotHandedOver):
    """No mail can be handed over now: the server does not answer, or does not let us in."""


class _Watched(smtplib.SMTP):
    """Its deadline is that of the letter that is handed over just now."""

    def __init__(self, deadline: Deadline, *given: Any, **named: Any) -> None:
        self.deadline = deadline
        super().__init__(*given, **named)

    def getreply(self) -> tuple[int, bytes]:
        self.deadline.of(self.sock)
        return super().getreply()


class _WatchedSecure(_Watched, smtplib.SMTP_SSL):
    pass


class Post:
    """Use it in a `with` statement. It connects when there is something to hand over."""

    def __init__(self, server: MailServer, host: str, waits: Waits = WAITS) -> None:
        self._server, self._host, self._waits = server, host, waits
        self._open: _Watched | None = None

    def __enter__(self) -> "Post":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    def hand_over(self, message: bytes, sender: str, to: str, name: str = "") -> None:
        """When this returns, the server has taken the mail. `name`: what a notification that it came back should call
        it (RFC 3461, 4.4), where the server can do that. Raises NotHandedOver."""
        with Deadline(self._waits.before_the_end) as deadline:
            connection = self._connected(deadline)
            connection.deadline = deadline
            try:
                self._send(connection, message, sender, to, name)
            except (*_TROUBLE, UnicodeError) as error:
                self.close(politely=isinstance(error, _REFUSED))
                raise _not_taken(error, deadline) from error

    def close(self, politely: bool = True) -> None:
        connection, self._open = self._open, None
        if connection is None:
            return
        if politely and connection.sock is not None:
            with Deadline(self._waits.good_bye) as connection.deadline, contextlib.suppress(*_TROUBLE):
                _wait(connection, self._waits.good_bye)
                connection.quit()
        connection.close()

    def _send(self, connection: _Watched, message: bytes, sender: str, to: str, name: str) -> None:
        waits = self._waits
        _wait(connection, waits.command)
        connection.ehlo_or_helo_if_needed()
        notified = bool(name) and connection.has_extn("dsn")
        size = [f"size={len(message)}"] if connection.has_extn("size") else []
        _heard(connection.mail(sender, [*size, *(["RET=HDRS", f"ENVID={name}"] if notified else [])]))
        code, said = connection.rcpt(to, ["NOTIFY=FAILURE"] if notified else [])
        if code not in _TO_BE_DELIVERED:
            raise smtplib.SMTPRecipientsRefused({to: (code, said)})
        _wait(connection, waits.data)
        _heard(connection.docmd("DATA"), 354)
        _wait(connection, waits.block)
        written = _as_data(message)
        for place in range(0, len(written), _BLOCK):
            connection.send(written[place:place + _BLOCK])
        connection.deadline.begin_anew(waits.end_of_data)
        _wait(connection, waits.end_of_data)
        _heard(connection.getreply())

    def _connected(self, deadline: Deadline) -> _Watched:
        if self._open is None:
            try:
                self._open = self._connect(deadline)
            except _TROUBLE as error:
                reason = _reason(error, deadline)
                raise Unreachable(f"{self._server.host}:{self._server.port} can't be used: {reason}") from error
        return self._open

    def _connect(self, deadline: Deadline) -> _Watched:
        server, secure, seconds = self._server, ssl.create_default_context(), self._waits.command
        connection = (
            _WatchedSecure(deadline, server.host, server.port, self._host, timeout=seconds, context=secure)
            if server.tls == "at once"
            else _Watched(deadline, server.host, server.port, self._host, timeout=seconds)
        )
        try:
            if server.tls == "starttls":
                connection.starttls(context=secure)
            if server.user:
                connection.login(server.user, server.password)
        except _TROUBLE:
            connection.close()
            raise
        return connection


def _wait(connection: _Watched, seconds: float) -> None:
    """For each answer from here on."""
    if connection.sock is None:
        raise smtplib.SMTPServerDisconnected("the connection is closed")
    connection.sock.settimeout(seconds)


def _heard(answer: tuple[int, bytes], wanted: int = 250) -> None:
    if answer[0] != wanted:
        raise smtplib.SMTPResponseException(*answer)


def _as_data(message: bytes) -> bytes:
    """RFC 5321, 4.5.2: a line that begins with a dot has another before it, and a lone dot ends all."""
    ended = message if message.endswith(b"\r\n") else message + b"\r\n"
    return re.sub(rb"(?m)^\.", b"..", ended) + b".\r\n"


def _not_taken(error: Exception, deadline: Deadline) -> NotHandedOver:
    for_good = isinstance(error, smtplib.SMTPRecipientsRefused) and _answer(error)[0] >= 500
    return NotHandedOver(f"The mail server did not take it: {_reason(error, deadline)}", for_good)


def _reason(error: Exception, deadline: Deadline) -> str:
    if deadline.passed or TimeoutError in (type(error), type(error.__context__)):  # smtplib turns it into its own
        return "it did not answer in time"
    if isinstance(error, smtplib.SMTPRecipientsRefused | smtplib.SMTPResponseException):
        code, said = _answer(error)
        return one_line(f"{code} {said.decode('utf-8', 'replace') if isinstance(said, bytes) else said}")[:200]
    return one_line(str(error))[:200] or type(error).__name__


def _answer(error: smtplib.SMTPRecipientsRefused | smtplib.SMTPResponseException) -> tuple[int, bytes | str]:
    if isinstance(error, smtplib.SMTPRecipientsRefused):
        refused: tuple[int, bytes] = next(iter(error.recipients.values()))
        return refused
    return error.smtp_code, error.smtp_error
