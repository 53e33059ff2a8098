"""A mailbox made by hand, on loopback under TLS: what it takes to read one by RFC 3501, and no more: whoever would
change something is refused."""

import re
import socketserver
import ssl
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from threading import Thread

from portal.settings import ReturnedMail
from tests.notices.certificate import under_tls


@dataclass
class Folder:
    """Mails by UID; `says` has a command's answer in place of the usual one, `waits` the seconds before each answer."""

    secure: ssl.SSLContext
    port: int = 0
    validity: int = 17
    mails: dict[int, bytes] = field(default_factory=dict)
    says: dict[str, str] = field(default_factory=dict)
    waits: float = 0
    asked: list[str] = field(default_factory=list)

    @property
    def mailbox(self) -> ReturnedMail:
        return ReturnedMail("127.0.0.1", self.port, "returns", 'pass "word"', "Returned mail")


class _Session(socketserver.StreamRequestHandler):
    folder: Folder

    def setup(self) -> None:
        self.request = self.folder.secure.wrap_socket(self.request, server_side=True)
        super().setup()

    def handle(self) -> None:
        self._say("* OK ready")
        while line := self.rfile.readline().decode().strip():
            tag, _, command = line.partition(" ")
            self.folder.asked.append(command)
            name = " ".join(command.split()[:2] if command.upper().startswith("UID") else command.split()[:1]).upper()
            time.sleep(self.folder.waits)
            if name in self.folder.says:
                self._say(f"{tag} {self.folder.says[name]}")
            elif name == "LOGIN" and command.split(" ", 1)[1] != '"returns" "pass \\"word\\""':
                self._say(f"{tag} NO wrong")
            else:
                self._answer(name, command)
                self._say(f"{tag} OK done")

    def _answer(self, name: str, command: str) -> None:
        folder = self.folder
        if name == "CAPABILITY":
            self._say("* CAPABILITY IMAP4rev1")
        elif name == "EXAMINE":
            assert command.endswith('"Returned mail"')
            self._say(f"* {len(folder.mails)} EXISTS")
            self._say(f"* OK [UIDVALIDITY {folder.validity}] valid")
        elif name == "UID SEARCH":
            self._say(f"* SEARCH {' '.join(map(str, self._found(command)))}".rstrip())
        elif name == "UID FETCH":
            found = re.fullmatch(r"UID FETCH (\d+) \(BODY\.PEEK\[\]<0\.(\d+)>\)", command)
            assert found, command
            data = folder.mails.get(int(found[1]), b"")[:int(found[2])]
            if data:
                self.wfile.write(f"* 1 FETCH (UID {found[1]} BODY[]<0> {{{len(data)}}}\r\n".encode() + data + b")\r\n")
        else:
            assert name in ("LOGIN", "LOGOUT"), f"{name} reads nothing"

    def _found(self, command: str) -> list[int]:
        """By the head, as servers do; `n:*` names the newest, whatever n is (6.4.8)."""
        assert command.endswith("HEADER Content-Type multipart/report")
        reports = [uid for uid, data in self.folder.mails.items() if b"multipart/report" in data.split(b"\r\n\r\n")[0]]
        after = re.search(r"UID (\d+):\*", command.removeprefix("UID "))
        newest = max(self.folder.mails, default=0)
        return [uid for uid in reports if not after or uid >= int(after[1]) or uid == newest]

    def _say(self, line: str) -> None:
        self.wfile.write(line.encode() + b"\r\n")

    def finish(self) -> None:
        super().finish()
        self.request.close()


class _Server(socketserver.ThreadingTCPServer):
    daemon_threads = True

    def handle_error(self, request: object, client_address: object) -> None:
        """A client that leaves in the middle is no news."""


@contextmanager
def imap_folder(certificate: Path) -> Iterator[Folder]:
    folder = Folder(under_tls(certificate))
    with _Server(("127.0.0.1", 0), type("Session", (_Session,), {"folder": folder})) as server:
        folder.port = server.server_address[1]
        thread = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True)
        thread.start()
        try:
            yield folder
        finally:
            server.shutdown()
            thread.join()
