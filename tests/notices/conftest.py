"""The invented house with a mail server beside it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from tests.house import House
from tests.notices.certificate import make_certificate
from tests.notices.mail_server import Mailbox, mailbox
from tests.notices.office import PostOffice
from tests.served import serve_house


@pytest.fixture
def box() -> Iterator[Mailbox]:
    with mailbox() as box:
        yield box


@pytest.fixture
def office(house: House, box: Mailbox) -> PostOffice:
    return PostOffice(house, box)


@pytest.fixture
def certificate(tmp_path: Path) -> Path:
    return make_certificate(tmp_path)


@pytest.fixture
def client(house: House, tmp_path: Path) -> FlaskClient:
    """Opens what stands in mails."""
    return serve_house(tmp_path).test_client()
