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
events {{ worker_connections {connections}; }}
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
    """`port`: the pages; `plain_port`: what stands on port 80."""

    port: int
    run: Path
    plain_port: int

    @property
    def base(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def log(self) -> str:
        """Both logs of the site, once nginx has written out what it still held back."""
        return "".join(text for name, text in self.logs().items() if name.startswith("portal"))

    def logs(self) -> dict[str, str]:
        """Every log, those of the server around the site, too."""
        os.kill(int((self.run / "nginx.pid").read_text()), signal.SIGUSR1)
        time.sleep(0.3)
        return {path.name: path.read_text(errors="replace") for path in sorted(self.run.glob("*.log"))}


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def site_text(data: Path, site: RunningSite, service_port: int, tls: bool) -> str:
    """deploy/nginx.conf with its marked lines, its ports and its log folder set for this machine. Without `tls`, what
    it does on port 443 it does on a plain one."""
    text, run = (CHECKOUT / "deploy/nginx.conf").read_text(), site.run
    for pattern, line in [
        (r"server_name .*# EDIT.*", "server_name 127.0.0.1;"),
        (r"root /var/lib/portal/site;.*# EDIT.*", f"root {data}/site;"),
        (r"root /opt/portal;.*# EDIT.*", f"root {CHECKOUT};"),
        (r"root /var/www/acme;", f"root {run}/acme;"),
        (r"ssl_certificate .*# EDIT.*", f"ssl_certificate {run}/certificate.pem;" if tls else ""),
        (r"ssl_certificate_key .*# EDIT.*", f"ssl_certificate_key {run}/key.pem;" if tls else ""),
        (r"listen 80;", f"listen 127.0.0.1:{site.plain_port};"),
        (r"listen 443 ssl;", f"listen 127.0.0.1:{site.port}{' ssl' if tls else ''};"),
        (r"server 127\.0\.0\.1:8000", f"server 127.0.0.1:{service_port}"),
        (r"/var/log/nginx/portal(.*)\.log", rf"{run}/portal\1.log"),
    ]:
        text, changed = re.subn(pattern, line, text)
        assert changed, f"deploy/nginx.conf has no line {pattern}"
    assert "EDIT" not in text.partition("upstream")[2]
    return text


@contextmanager
def running_site(
    data: Path, service_port: int, run: Path, beside: str = "", tls: bool = False, connections: int = 1024
) -> Iterator[RunningSite]:
    """nginx with deploy/'s site: files under `data`, the service at `service_port`; `beside` adds servers. With `tls`,
    the certificate and its key lie in `run`."""
    site = RunningSite(free_port(), run, free_port())
    (run / "site.conf").write_text(site_text(data, site, service_port, tls))
    surroundings = SURROUNDINGS.format(run=run, beside=beside, connections=connections)
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
