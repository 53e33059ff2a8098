"""No screen of the desk shows a path of the server: not a page, not what failed, not what the disk or a file says."""

import errno
from pathlib import Path

import pytest
from flask import Flask

from portal.running.last_tick import note
from portal.store.engine.database import write
from portal.store.rows.accounts import first_day_rows
from tests.house import NOW, House
from tests.web.signed_in import Desk
from tests.web.test_who_may import ids, pages

SHOWN = ("/var/", "/tmp/", "/dev/shm/", "/srv/", "/home/", "/work/", ".db", "portal.db")


def shows_none(desk: Desk, folder: Path) -> None:
    for path in (str(folder), *SHOWN):
        assert path not in desk.says, (desk.path, path)


def test_no_page_shows_a_path_also_where_things_have_failed(
    app: Flask, manager: Desk, house: House, tmp_path: Path
) -> None:
    note(app.extensions["portal"].settings, NOW - 3 * 24 * 3600, ["pages", "letters"])
    (tmp_path / "plans").mkdir()
    (tmp_path / "plans" / "bath.toml").write_text("title = ")
    with write():
        first_day_rows.note("mail", NOW, "127.0.0.1:25 can't be used: [Errno 111] Connection refused")
    given = ids(house)
    seen = 0
    for _, address in pages(app, given):
        with manager.client.get(address) as answer:
            is_page = answer.mimetype == "text/html"  # and no file
        if is_page:
            shows_none(manager.open(address), tmp_path)
            seen += 1
    assert seen > 50


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS, errno.EIO, errno.EACCES, errno.ENOENT])
def test_what_the_disk_refuses_is_said_without_where(
    manager: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    def refused(*args: object, **kwargs: object) -> None:
        raise OSError(number, "No", str(tmp_path / "portal.db"))

    monkeypatch.setattr("portal.web.desk.firm.suppliers.add_supplier", refused)
    manager.app.testing = False
    manager.app.config["PROPAGATE_EXCEPTIONS"] = False
    manager.open("/desk/suppliers/new")
    answer = manager.client.post(manager.path, data=manager.typed() | {"name": "Alder Yard"})
    assert answer.status_code >= 500
    told = answer.get_data(as_text=True)
    assert str(tmp_path) not in told and "portal.db" not in told
