"""What publishing failed to show is said on the house and on the list, until it is mended."""

import errno

import pytest

from portal.pages.publishing.site import Site
from portal.store.engine.database import touch, write
from portal.store.tables import Project
from tests.house import House
from tests.web.signed_in import Desk

SAID = "The page of Okafor house does not show the last change."


def test_a_page_that_fails_is_said_on_the_house_and_on_the_list_until_it_is_mended(
    manager: Desk, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    publisher = manager.app.extensions["portal"].publisher
    publisher.publish_all()
    assert SAID not in manager.open("/desk/").says
    with monkeypatch.context() as broken:
        broken.setattr(Site, "write_page", lambda *_: (_ for _ in ()).throw(OSError(errno.EROFS, "read-only")))
        with write():
            touch(house.project)
    for where in ("/desk/", "/desk/projects/7/"):
        says = manager.open(where).says
        assert f"{SAID} It has been so since" in says and "The server may not write where its pages lie." in says
    assert SAID not in manager.open("/desk/projects/8/").says
    publisher.tick(0)
    assert SAID not in manager.open("/desk/").says and SAID not in manager.open("/desk/projects/7/").says


def test_of_many_pages_the_first_are_named_and_the_others_counted(
    manager: Desk, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in range(3):
        old = Project.get_by_id(house.other_project)
        old.id, old.name = None, f"House {number}"
        old.save(force_insert=True)
    monkeypatch.setattr(Site, "write_page", lambda *_: (_ for _ in ()).throw(OSError(errno.ENOSPC, "full")))
    manager.app.extensions["portal"].publisher.publish_all()
    says = manager.open("/desk/").says
    assert says.count("does not show the last change") == 3 and "Nor do the pages of 2 more houses." in says
