"""deploy/nginx.conf put to work on this machine: the site as it stands, only its marked lines changed."""

import os
import re
import shutil
import signal
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

CHECKOUT = Path(__file__).parents[2]
PATHS = os.environ["PATH"] + ":/usr/sbin:/sbin"  # Debian keeps nginx outside an ordinary user's path

# What stands around a site on a Debian server, as far as it matters here.
SURROUNDINGS = """
daemon off;
worker_processes 1;
pid {run}/nginx.pid;
error_log {run}/error.log;
events {{ worker_connections 1024; }}
http {{
    include /etc/nginx/mime.types;
    default_type application/octet-stream;
    sendfile on;
    tcp_nopush on;
    keepalive_requests 1000000;
    client_body_temp_path {run}/body;
    proxy_temp_path {run}/proxy;
    fastcgi_temp_path {run}/fastcgi;
    uwsgi_temp_path {run}/uwsgi;
    scgi_temp_path {run}/scgi;
    access_log off;
    include {run}/site.conf;
    {beside}
}}
"""


@dataclass(frozen=True)
class RunningSite:
    port: int
    run: Path

    @property
    def base(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def log(self) -> str:
        """Both logs of the site, once nginx has written out what it still held back."""
        os.kill(int((self.run / "nginx.pid").read_text()), signal.SIGUSR1)
        time.sleep(0.3)
        return "".join(path.read_text() for path in sorted(self.run.glob("portal*.log")))


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def site_text(data: Path, port: int, service_port: int, run: Path) -> str:
    """deploy/nginx.conf with its marked lines, its two ports and its log folder set for this machine."""
    text = (CHECKOUT / "deploy/nginx.conf").read_text()
    for pattern, line in [
        (r"server_name .*# EDIT.*", "server_name 127.0.0.1;"),
        (r"root /var/lib/portal/site;.*# EDIT.*", f"root {data}/site;"),
        (r"root /opt/portal;.*# EDIT.*", f"root {CHECKOUT};"),
        (r"listen 80;", f"listen 127.0.0.1:{port};"),
        (r"server 127\.0\.0\.1:8000", f"server 127.0.0.1:{service_port}"),
        (r"/var/log/nginx/portal(.*)\.log", rf"{run}/portal\1.log"),
    ]:
        text, changed = re.subn(pattern, line, text)
        assert changed, f"deploy/nginx.conf has no line {pattern}"
    return text


@contextmanager
def running_site(data: Path, service_port: int, run: Path, beside: str = "") -> Iterator[RunningSite]:
    """nginx with deploy/'s site: files under `data`, the service at `service_port`; `beside` adds servers."""
    site = RunningSite(free_port(), run)
    (run / "site.conf").write_text(site_text(data, site.port, service_port, run))
    surroundings = SURROUNDINGS.format(run=run, beside=beside)
    # A root nginx drops to www-data, who may not look into pytest's folders.
    (run / "nginx.conf").write_text(("user root;" if os.getuid() == 0 else "") + surroundings)
    nginx = shutil.which("nginx", path=PATHS)
    assert nginx, "nginx is missing: bash tests/run brings it"
    process = subprocess.Popen([nginx, "-p", run, "-e", run / "error.log", "-c", run / "nginx.conf"])
    try:
        _wait_until_it_answers(site, process)
        yield site
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(10)


def _wait_until_it_answers(site: RunningSite, process: subprocess.Popen[bytes]) -> None:
    for _ in range(100):
        assert process.poll() is None, f"nginx refused its site:\n{(site.run / 'error.log').read_text()}"
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", site.port)) == 0:
                return
        time.sleep(0.05)
    raise AssertionError("nginx did not answer within five seconds")
