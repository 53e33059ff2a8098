"""Settings, folders and their rights, key files, and what the program brings along."""

import os
import stat
from pathlib import Path
from urllib.parse import urlsplit

from portal.content import MissingPiece, cures
from portal.folders import CONTENT, STATIC
from portal.pages.paper.cautions import check_cautions
from portal.running.installation.findings import Finding
from portal.settings import Settings

_HERE = ("127.0.0.1", "localhost", "::1")
_OTHERS = stat.S_IROTH | stat.S_IWOTH
_BROUGHT = (
    "look/base.css", "down.html",
    "refused/400.html", "refused/413.html", "refused/414.html", "refused/431.html",
)


def settings_found(settings: Settings) -> list[Finding]:
    if settings.over_tls or urlsplit(settings.base_url).hostname in _HERE:
        return [Finding("settings", f"PORTAL_BASE_URL is {settings.base_url}")]
    return [Finding("settings", f"PORTAL_BASE_URL is {settings.base_url}, without TLS",
                    "Private links are credentials: get a certificate (deploy/nginx.conf says where it goes), and "
                    "write https:// in PORTAL_BASE_URL.")]


def folders(settings: Settings) -> list[Finding]:
    """Those that have to be there, and those that the service makes itself."""
    data = settings.data
    if not data.is_dir():
        return [Finding("folders", f"{data} is not there" if not data.exists() else f"{data} is no folder",
                        "Set PORTAL_DATA to where the portal's data lie; a new server makes them at its first start.")]
    there = [data, *(one for one in (settings.site, settings.photos) if one.exists())]
    return [_folder(one) for one in there]


def _folder(path: Path) -> Finding:
    found = path.stat()
    if found.st_uid != os.geteuid():
        return Finding("folders", f"{path} belongs to user {found.st_uid}, and this runs as user {os.geteuid()}",
                       "Run this as the service's user: bash deploy/portal check. If it is that one: "
                       f"chown -R portal {path}")
    if found.st_mode & _OTHERS:
        return Finding("folders", f"{path} can be read by everyone on this machine", f"chmod o-rw {path}")
    if not os.access(path, os.R_OK | os.W_OK | os.X_OK):
        return Finding("folders", f"{path} can't be written",
                       f"Look whether its disk was mounted read-only; else chmod u+rwx {path}")
    return Finding("folders", str(path))


def published_files(settings: Settings) -> list[Finding]:
    """The web server reads them by the group that the unit gives to the folder of the site."""
    site = settings.site
    if not site.is_dir():
        return []
    group = site.stat().st_gid
    other = [one for one in (site / "p", site / "pages", *(site / "pages").glob("*/index.html"))
             if one.exists() and one.stat().st_gid != group]
    if other:
        return [Finding("published files", f"{other[0]} is not of the group of {site}, so the web server can't read it",
                        f"chgrp -R --reference={site} {site}/p {site}/pages, and chmod g+s on the folders in them.")]
    return [Finding("published files", f"of the group of {site}")]


def key_files(settings: Settings) -> list[Finding]:
    return [_key_file(one) for one in (settings.secret_file, settings.record_key_file)]


def _key_file(path: Path) -> Finding:
    if not path.exists():
        return Finding("key files", f"{path} is not there",
                       "A new server makes it at its first start; on any other, put it back from a backup.")
    mode = stat.S_IMODE(path.stat().st_mode)
    if mode & 0o077:
        return Finding("key files", f"{path} can be read by others (mode {mode:04o})", f"chmod 600 {path}")
    return Finding("key files", f"{path}, for its owner alone")


def brought_along(settings: Settings) -> list[Finding]:
    missing = [str(STATIC / name) for name in _BROUGHT if not (STATIC / name).is_file()]
    try:
        check_cautions()
        cures()
    except MissingPiece as piece:
        missing.append(str(piece))
    if missing:
        return [Finding("program", f"missing: {', '.join(missing)}", "Put the checkout back as it was: git status.")]
    return [Finding("program", f"styles in {STATIC}, texts in {CONTENT}")]
