"""`pip install .` into an environment without the checkout, then `portal demo` from any folder."""

import io
import tarfile
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.error import HTTPError

import pytest
from pypdf import PdfReader

from portal.content import piece, pieces
from portal.folders import CONTENT, STATIC
from portal.store.reading.plans_to_start_from import starters
from tests.browser.demo import running_demo
from tests.deploy.installed import build, install, make_environment, run
from tests.deploy.site import CHECKOUT
from tests.deploy.visitor import Visitor


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build(CHECKOUT, tmp_path_factory.mktemp("wheel"), "wheel")


@pytest.fixture(scope="module")
def python(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The Python of an environment into which the wheel was installed."""
    python = make_environment(tmp_path_factory.mktemp("environment"))
    install(python, wheel)
    return python


@pytest.fixture(scope="module")
def demo(python: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Any]]:
    somewhere = tmp_path_factory.mktemp("somewhere")
    with running_demo(somewhere / "data", [str(python.with_name("portal"))], somewhere) as said:
        yield said


@pytest.fixture(scope="module")
def visitor(demo: dict[str, Any]) -> Visitor:
    return Visitor(demo["base"])


@pytest.fixture(scope="module")
def home(demo: dict[str, Any]) -> str:
    """The path of a homeowner's link."""
    link: str = demo["pages"][0]
    return link.removeprefix(demo["base"])


def test_the_wheel_holds_every_file_of_the_package_of_content_and_of_static(wheel: Path) -> None:
    """What git keeps under them, but for the pictures of the README."""
    kept = run("git", "ls-files", "--cached", "--others", "--exclude-standard", "portal", "content", "static").split()
    wanted = {
        path if path.startswith("portal/") else f"portal/carried/{path}"
        for path in kept if not path.startswith("static/pictures/") and (CHECKOUT / path).is_file()
    }
    carried = {name for name in zipfile.ZipFile(wheel).namelist() if not name.startswith("portal-")}
    assert carried == wanted


def test_a_wheel_out_of_the_source_archive_is_the_same(wheel: Path, tmp_path: Path) -> None:
    with tarfile.open(build(CHECKOUT, tmp_path / "archive", "sdist")) as packed:
        packed.extractall(tmp_path, filter="data")
    (source,) = tmp_path.glob("portal-*")
    again = build(source, tmp_path / "again", "wheel")
    assert (again.name, again.read_bytes()) == (wheel.name, wheel.read_bytes())


def test_what_is_installed_finds_its_own_files(python: Path, tmp_path: Path) -> None:
    """Not those of a checkout that happens to be near."""
    (tmp_path / "content").mkdir()
    said = run(python, "-c", "from portal import folders; print(folders.CONTENT, folders.STATIC)", cwd=tmp_path)
    places = [Path(place) for place in said.split()]
    assert [place.is_relative_to(python.parents[1]) for place in places] == [True, True]
    for place, here in zip(places, (CONTENT, STATIC), strict=True):
        assert {path.name for path in place.iterdir()} == {path.name for path in here.iterdir()} - {"pictures"}


def test_the_installed_command_says_its_version(python: Path, wheel: Path) -> None:
    assert run(python.with_name("portal"), "--version") == f"portal {wheel.name.split('-')[1]}\n"


def test_a_household_reads_its_page_and_a_question_with_our_guidance_beside_it(visitor: Visitor, home: str) -> None:
    assert 'href="decisions/1/"' in visitor.read(home)
    question, guidance = visitor.read(f"{home}decisions/1/"), piece("decisions", "deck")
    assert guidance and guidance.summary and guidance.summary in question and "<svg" in question


def test_the_sheet_brings_its_letters(visitor: Visitor, home: str) -> None:
    sheet = PdfReader(io.BytesIO(visitor.fetch(f"{home}decisions/1/sheet.pdf")))
    fonts = {str(font["/BaseFont"]) for page in sheet.pages for font in page["/Resources"]["/Font"].values()}
    assert {font.partition("+")[2] for font in fonts} >= {"DejaVuSansCondensed", "DejaVuSansCondensed-Bold"}


def test_the_staff_find_the_house_on_the_desk_and_plans_to_start_from(
    visitor: Visitor, demo: dict[str, Any], tmp_path: Path
) -> None:
    account = demo["sign_in"][0]
    assert "Okafor, Tamarack Lane" in visitor.sign_in(account["email"], account["password"])
    assert visitor.fetch("/static/look/desk.css") == (STATIC / "look/desk.css").read_bytes()
    start = visitor.read(f"/desk/projects/{demo['project']}/start-from")
    assert [one.title for one in starters(tmp_path) if one.title not in start] == []


def test_the_guidance_is_open_to_everyone(visitor: Visitor) -> None:
    contents = visitor.read("/guide/")
    assert [one.name for one in pieces("guide") if f'"{one.name}/"' not in contents] == []


def test_what_can_not_be_read_is_answered_with_a_page_of_ours(visitor: Visitor) -> None:
    with pytest.raises(HTTPError) as refused:
        visitor.fetch("/guide/?" + "x" * 9000)
    assert (refused.value.code, refused.value.read()) == (414, (STATIC / "refused/414.html").read_bytes())
