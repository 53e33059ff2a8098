"""`portal serve` in processes of its own, to be killed; and a household that approves over HTTP meanwhile."""

import http.client
import json
import os
import signal
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.deploy.site import free_port


@dataclass
class Server:
    """One server on a port of its own over the data at `folder`, in a session of its own with all its workers."""

    folder: Path
    workers: int = 1
    port: int = field(default_factory=free_port)
    process: subprocess.Popen[bytes] | None = None

    def start(self) -> "Server":
        environment = os.environ | {"PORTAL_DATA": str(self.folder), "PORTAL_BASE_URL": f"http://127.0.0.1:{self.port}"}
        where = ["--port", str(self.port), "--workers", str(self.workers)]
        command = [sys.executable, "-m", "portal.cli", "serve", *where]
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(command, env=environment, stdout=log, stderr=log, start_new_session=True)
        for _ in range(600):
            try:
                if self.get("/up")[0] == 200:
                    return self
            except OSError:
                pass
            time.sleep(0.05)
        raise AssertionError(f"the server did not come up: {self.log.read_text()[-2000:]}")

    @property
    def log(self) -> Path:
        return self.folder / "server.log"

    def kill(self) -> None:
        """SIGKILL to the server and all its workers at once, as when the power goes."""
        assert self.process is not None
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait(20)

    def workers_pids(self) -> list[int]:
        assert self.process is not None
        children = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children").read_text()
        return [int(pid) for pid in children.split()]

    def get(self, path: str) -> tuple[int, bytes]:
        status, body, _ = self.send("GET", path)
        return status, body

    def post(self, path: str, link: str, values: dict[str, Any], **headers: str) -> tuple[int, Any, dict[str, str]]:
        """A JSON request with a homeowner's link as the bearer; the answer's status, JSON and headers."""
        sent = {"Authorization": f"Bearer {link}", "Content-Type": "application/json"}
        sent |= {name.replace("_", "-"): value for name, value in headers.items()}
        status, body, got = self.send("POST", f"/api/v1/{path}", json.dumps(values).encode(), sent)
        return status, json.loads(body), got

    def send(
        self, method: str, path: str, body: bytes = b"", headers: dict[str, str] | None = None
    ) -> tuple[int, bytes, dict[str, str]]:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        try:
            connection.request(method, path, body or None, headers or {})
            answer = connection.getresponse()
            return answer.status, answer.read(), dict(answer.getheaders())
        except http.client.HTTPException as error:
            raise ConnectionError(str(error)) from error
        finally:
            connection.close()
