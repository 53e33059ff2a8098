"""What is asked over the network, and of systemd: each within seconds, and nothing is sent to anybody."""

import shutil
import smtplib
import socket
import ssl
import subprocess
import time
import urllib.error
import urllib.request
from urllib.parse import urlsplit

from portal.notices.returned_mail import not_read, returned_words
from portal.running.installation.findings import Finding
from portal.settings import MailServer, Settings
from portal.store.reading.firm import current_firm

_SECONDS = 10.0
_DAYS_LEFT = 14
_UNITS = ("portal.service", "portal-tick.timer", "portal-backup.timer")


def site(settings: Settings) -> list[Finding]:
    where = f"{settings.base_url}/up"
    try:
        with urllib.request.urlopen(where, timeout=_SECONDS) as answer:
            said = answer.read(10)
    except urllib.error.HTTPError as error:
        return [Finding("site", f"{where} answered {error.code}",
                        "systemctl status portal nginx; see deploy/nginx.conf.")]
    except (OSError, ValueError) as error:
        return [Finding("site", f"{where} can't be reached: {_reason(error)}",
                        "systemctl status portal nginx; look at the name, its address, the certificate, the firewall.")]
    if said != b"up\n":
        return [Finding("site", f"{where} is answered by something else",
                        "Look which server answers for that name, and at server_name in deploy/nginx.conf.")]
    return [Finding("site", f"{where} answers")]


def certificate(settings: Settings) -> list[Finding]:
    parts = urlsplit(settings.base_url)
    if not settings.over_tls:
        return []
    host = parts.hostname or ""
    try:
        with (
            socket.create_connection((host, parts.port or 443), _SECONDS) as plain,
            ssl.create_default_context().wrap_socket(plain, server_hostname=host) as secure,
        ):
            ends = ssl.cert_time_to_seconds(str((secure.getpeercert() or {})["notAfter"]))
    except (OSError, KeyError, ValueError) as error:
        return [Finding("certificate", f"{host} shows none that holds: {_reason(error)}",
                        "Renew it, and reload nginx: systemctl reload nginx")]
    days = int((ends - time.time()) // (24 * 3600))
    if days < _DAYS_LEFT:
        return [Finding("certificate", f"it ends in {days} days", "Renew it, and look why that is not done by itself.")]
    return [Finding("certificate", f"good for {days} days")]


def mail(settings: Settings) -> list[Finding]:
    """Asked, and not used: it says hello, and lets us in."""
    server = settings.smtp
    if server is None:
        return [Finding("mail", "none is sent, since PORTAL_SMTP is not set", note="The desk says whom to call.")]
    if not current_firm().email:
        return [Finding("mail", "none is sent, since the firm has no e-mail address",
                        "Write it down at the desk: The firm's details.")]
    try:
        _hello(server)
    except (OSError, smtplib.SMTPException) as error:
        return [Finding("mail", f"{server.host}:{server.port} can't be used: {_reason(error)}",
                        "Check PORTAL_SMTP, and whether that server takes mail from this machine.")]
    secure = "" if server.tls or server.host in ("localhost", "127.0.0.1", "::1") else " without TLS"
    note = "Letters hold private links: write smtps://, or ?starttls=1." if secure else ""
    return [Finding("mail", f"{server.host}:{server.port} answers{secure}", note=note)]


def _hello(server: MailServer) -> None:
    context = ssl.create_default_context()
    with (
        smtplib.SMTP_SSL(server.host, server.port, timeout=_SECONDS, context=context) if server.tls == "at once"
        else smtplib.SMTP(server.host, server.port, timeout=_SECONDS)
    ) as connection:
        if server.tls == "starttls":
            connection.starttls(context=context)
        if server.user:
            connection.login(server.user, server.password)
        code, said = connection.noop()
        if code != 250:
            raise smtplib.SMTPResponseException(code, said)


def bounces(settings: Settings) -> list[Finding]:
    if settings.bounces is None:
        return [Finding("bounces", "not read here (PORTAL_BOUNCES is not set)",
                        note="A letter that comes back lies in the firm's own mailbox.")]
    said = returned_words(settings.bounces).rstrip(".")
    return [Finding("bounces", said, "Check PORTAL_BOUNCES and the mailbox, then run portal tick: it says what fails."
                    if not_read(settings.bounces) else "")]


def units(settings: Settings) -> list[Finding]:
    if shutil.which("systemctl") is None:
        return [Finding("timers", "there is no systemd here", note="Something else has to run portal tick and backup.")]
    return [_unit(name) for name in _UNITS]


def _unit(name: str) -> Finding:
    command = ["systemctl", "show", name, "--property=LoadState,ActiveState,Result", "--value"]
    asked = subprocess.run(command, capture_output=True, text=True, timeout=_SECONDS)
    said = asked.stdout.split()
    if asked.returncode or not said:
        return Finding("timers", f"systemd says nothing of {name}", note="Inside a container, its host runs them.")
    if "not-found" in said:
        return Finding("timers", f"{name} is not installed",
                       f"cp deploy/{name} /etc/systemd/system/, then systemctl daemon-reload")
    if "active" not in said:
        return Finding("timers", f"{name} is not running", f"systemctl enable --now {name}")
    return Finding("timers", f"{name} runs")


def _reason(error: Exception) -> str:
    said = getattr(error, "strerror", None) or str(getattr(error, "reason", "") or error)
    return " ".join(said.split())[:200] or type(error).__name__
