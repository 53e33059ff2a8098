"""A mail server made by hand, on loopback: it takes mails, or misbehaves as it is told."""

import socketserver
import ssl
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from email import message_from_bytes
from email.message import EmailMessage
from email.policy import default
from threading import Thread

from portal.settings import MailServer


@dataclass
class Mail:
    """One mail as the server took it."""

    sender: str
    to: list[str]
    data: bytes

    @property
    def message(self) -> EmailMessage:
        parsed = message_from_bytes(self.data, policy=default)
        assert isinstance(parsed, EmailMessage)
        return parsed

    @property
    def text(self) -> str:
        body = self.message.get_body(("plain",))
        assert body is not None
        return str(body.get_content())


@dataclass
class Mailbox:
    """What arrived, and how the server is to behave: `says` has a command's answer in place of the usual one;
    `hangs_up`: it takes a mail, and closes the connection without an answer. `waits` has the seconds before a command's
    answer; `before_the_answer` is done when it has a mail and has not said so; `drips`: a byte at a time."""

    port: int = 0
    mails: list[Mail] = field(default_factory=list)
    says: dict[str, str] = field(default_factory=dict)
    hangs_up: bool = False
    connections: int = 0
    waits: dict[str, float] = field(default_factory=dict)
    before_the_answer: Callable[[], None] = lambda: None
    drips: bool = False
    secure: ssl.SSLContext | None = None
    options: list[str] = field(default_factory=list)
    logins: list[str] = field(default_factory=list)

    @property
    def server(self) -> MailServer:
        return MailServer("127.0.0.1", self.port)

    def to(self, email: str) -> list[Mail]:
        return [mail for mail in self.mails if mail.to == [email]]


class _Session(socketserver.StreamRequestHandler):
    box: Mailbox

    def handle(self) -> None:
        box = self.box
        box.connections += 1
        self._say("greeting", "220 a mailbox")
        sender, to = "", []
        while line := self.rfile.readline():
            text = line.decode("utf-8").strip()
            verb, _, rest = text.partition(" ")
            verb = verb.upper()
            if verb == "EHLO":
                self._say("EHLO", "250-a mailbox\r\n250-8BITMIME\r\n250-STARTTLS\r\n250 AUTH PLAIN")
            elif verb == "STARTTLS":
                self._say("STARTTLS", "220 go on")
                self._secured()
            elif verb == "AUTH":
                box.logins.append(rest)
                self._say("AUTH", "235 welcome")
            elif verb == "MAIL":
                sender, to = _address(rest), []
                box.options.append(rest.partition(">")[2].strip())
                self._say("MAIL", "250 ok")
            elif verb == "RCPT":
                to.append(_address(rest))
                box.options.append(rest.partition(">")[2].strip())
                self._say(f"RCPT {to[-1]}", self.box.says.get("RCPT", "250 ok"))
            elif verb == "DATA":
                self._say("DATA", "354 go on")
                data = self._data()
                if box.says.get("data", "250").startswith("250"):
                    box.mails.append(Mail(sender, to, data))
                if box.hangs_up:
                    return
                box.before_the_answer()
                self._say("data", "250 taken")
            elif verb == "QUIT":
                self._say("QUIT", "221 good bye")
                return
            else:
                self._say(verb, "250 ok")

    def finish(self) -> None:
        super().finish()
        self.request.close()

    def _say(self, when: str, usual: str) -> None:
        time.sleep(self.box.waits.get(when, 0))
        answer = self.box.says.get(when, usual).encode() + b"\r\n"
        for part in [answer[i:i + 1] for i in range(len(answer))] if self.box.drips else [answer]:
            self.wfile.write(part)
            time.sleep(0.05 if self.box.drips else 0)

    def _data(self) -> bytes:
        lines = []
        while (line := self.rfile.readline()) not in (b".\r\n", b""):
            assert line.endswith(b"\r\n") and len(line) <= 1000, line  # RFC 5321, 4.5.3.1.6
            assert line.isascii(), line
            lines.append(line.removeprefix(b"."))
        return b"".join(lines)

    def _secured(self) -> None:
        assert self.box.secure is not None
        self.request = self.box.secure.wrap_socket(self.request, server_side=True)
        self.rfile, self.wfile = self.request.makefile("rb"), self.request.makefile("wb", buffering=0)


class _Server(socketserver.ThreadingTCPServer):
    daemon_threads = True

    def handle_error(self, request: object, client_address: object) -> None:
        """A client that leaves in the middle is no news."""


def _address(text: str) -> str:
    return text.split("<", 1)[1].split(">", 1)[0]


@contextmanager
def mailbox() -> Iterator[Mailbox]:
    box = Mailbox()
    handler = type("Session", (_Session,), {"box": box})
    with _Server(("127.0.0.1", 0), handler) as server:
        box.port = server.server_address[1]
        thread = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True)
        thread.start()
        try:
            yield box
        finally:
            server.shutdown()
            thread.join()
