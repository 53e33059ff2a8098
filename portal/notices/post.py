"""Hands mails over to the mail server (SMTP, RFC 5321), over one connection as long as it holds."""

import smtplib
import ssl
from email.message import EmailMessage
from types import TracebackType

from portal.notices.letter import one_line
from portal.settings import MailServer

SECONDS = 60.0  # for each answer of the server


class NotHandedOver(Exception):
    """The server did not take it; says why. `for_good`: it said that it never will deliver to this address (5yz)."""

    def __init__(self, why: str, for_good: bool = False) -> None:
        super().__init__(why)
        self.for_good = for_good


class Unreachable(NotHandedOver):
    """No mail can be handed over now: the server does not answer, or does not let us in."""


class Post:
    """Use it in a `with` statement. It connects when there is something to hand over."""

    def __init__(self, server: MailServer, host: str, seconds: float = SECONDS) -> None:
        self._server, self._host, self._seconds = server, host, seconds
        self._open: smtplib.SMTP | None = None

    def __enter__(self) -> "Post":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    def hand_over(self, message: EmailMessage, sender: str, to: str) -> None:
        """When this returns, the server has taken the mail. Raises NotHandedOver."""
        connection = self._connected()
        try:
            connection.send_message(message, sender, [to])
        except (smtplib.SMTPException, OSError, UnicodeError) as error:
            self.close()
            raise _not_taken(error) from error

    def close(self) -> None:
        if self._open is not None:
            try:
                self._open.quit()
            except (smtplib.SMTPException, OSError):
                self._open.close()
            self._open = None

    def _connected(self) -> smtplib.SMTP:
        if self._open is None:
            try:
                self._open = self._connect()
            except (smtplib.SMTPException, OSError) as error:
                raise Unreachable(f"{self._server.host}:{self._server.port} can't be used: {_reason(error)}") from error
        return self._open

    def _connect(self) -> smtplib.SMTP:
        server, secure = self._server, ssl.create_default_context()
        connection = (
            smtplib.SMTP_SSL(server.host, server.port, self._host, timeout=self._seconds, context=secure)
            if server.tls == "at once"
            else smtplib.SMTP(server.host, server.port, self._host, timeout=self._seconds)
        )
        try:
            if server.tls == "starttls":
                connection.starttls(context=secure)
            if server.user:
                connection.login(server.user, server.password)
        except (smtplib.SMTPException, OSError):
            connection.close()
            raise
        return connection


def _not_taken(error: Exception) -> NotHandedOver:
    for_good = isinstance(error, smtplib.SMTPRecipientsRefused) and _answer(error)[0] >= 500
    return NotHandedOver(f"The mail server did not take it: {_reason(error)}", for_good)


def _reason(error: Exception) -> str:
    if isinstance(error, smtplib.SMTPRecipientsRefused | smtplib.SMTPResponseException):
        code, said = _answer(error)
        return one_line(f"{code} {said.decode('utf-8', 'replace') if isinstance(said, bytes) else said}")[:200]
    return one_line(str(error))[:200] or type(error).__name__


def _answer(error: smtplib.SMTPRecipientsRefused | smtplib.SMTPResponseException) -> tuple[int, bytes | str]:
    if isinstance(error, smtplib.SMTPRecipientsRefused):
        refused: tuple[int, bytes] = next(iter(error.recipients.values()))
        return refused
    return error.smtp_code, error.smtp_error
