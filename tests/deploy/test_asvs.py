"""deploy/asvs.md and deploy/guarding.md say what is so: each requirement once, each named test there, each limit told.

Source of the numbers: OWASP Application Security Verification Standard 5.0.0, levels 1 and 2.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import argon2
import pytest
from flask.testing import FlaskClient

from portal.acts.actor import EVERYONE
from portal.acts.firm.passwords import SHORTEST, hasher
from portal.acts.firm.sessions import IDLE, LONGEST
from portal.acts.keeping.pictures.limits import LIMITS as PICTURES
from portal.acts.limits import LIMITS
from tests.house import House
from tests.served import serve_house

CHECKOUT = Path(__file__).parents[2]
GUARDING = (CHECKOUT / "deploy/guarding.md").read_text()
REQUIRED = {
    "1.1": "1-2", "1.2": "1-9", "1.3": "1-11", "1.4": "1-3", "1.5": "1-2", "2.1": "1-3", "2.2": "1-3", "2.3": "1-4",
    "2.4": "1", "3.2": "1-2", "3.3": "1-4", "3.4": "1-6", "3.5": "1-5", "3.7": "1-2", "4.1": "1-3", "4.2": "1",
    "4.3": "1-2", "4.4": "1-4", "5.1": "1", "5.2": "1-3", "5.3": "1-2", "5.4": "1-3", "6.1": "1-3", "6.2": "1-12",
    "6.3": "1-4", "6.4": "1-4", "6.5": "1-5", "6.6": "1-3", "6.8": "1-4", "7.1": "1-3", "7.2": "1-4", "7.3": "1-2",
    "7.4": "1-5", "7.5": "1-2", "7.6": "1-2", "8.1": "1-2", "8.2": "1-3", "8.3": "1", "8.4": "1", "9.1": "1-3",
    "9.2": "1-4", "10.1": "1-2", "10.2": "1-2", "10.3": "1-4", "10.4": "1-11", "10.5": "1-5", "10.6": "1-2",
    "10.7": "1-3", "11.1": "1-2", "11.2": "1-3", "11.3": "1-3", "11.4": "1-4", "11.5": "1", "11.6": "1",
    "12.1": "1-3", "12.2": "1-2", "12.3": "1-4", "13.1": "1", "13.2": "1-5", "13.3": "1-2", "13.4": "1-5",
    "14.1": "1-2", "14.2": "1-4", "14.3": "1-3", "15.1": "1-3", "15.2": "1-3", "15.3": "1-7", "16.1": "1",
    "16.2": "1-5", "16.3": "1-4", "16.4": "1-3", "16.5": "1-3", "17.1": "1", "17.2": "1-4", "17.3": "1-2",
}
CONNECTING = {"smtplib", "imaplib", "socket", "ssl", "urllib.request", "http.client", "psycopg", "requests", "httpx"}
STANDINGS = ("met", "not met", "not here")


class Line(NamedTuple):
    number: str
    standing: str
    why: str

    @property
    def tests(self) -> list[str]:
        return re.findall(r"`(tests/[^`]+)`", self.why)


LINES = [
    Line(*(cell.strip() for cell in row.strip("|").split("|", 2)))
    for row in (CHECKOUT / "deploy/asvs.md").read_text().splitlines() if re.match(r"\| \d", row)
]


def test_each_requirement_of_level_2_stands_here_once() -> None:
    wanted = [f"{section}.{number}" for section, numbers in REQUIRED.items() for number in _counted(numbers)]
    assert [line.number for line in LINES] == wanted and len(wanted) > 250


def test_each_says_how_it_stands_and_why() -> None:
    assert {line.standing for line in LINES} == set(STANDINGS)
    for line in LINES:
        assert line.tests if line.standing == "met" else len(line.why) > 5, line


def test_each_test_that_is_named_is_there() -> None:
    for line in LINES:
        for named in line.tests:
            path, _, name = named.partition("::")
            functions = {node.name for node in ast.walk(ast.parse((CHECKOUT / path).read_text()))
                         if isinstance(node, ast.FunctionDef)}
            assert name in functions, (line.number, named)


def test_no_module_evaluates_text_or_starts_a_shell() -> None:
    for path, node in _nodes():
        if isinstance(node, ast.Call):
            called = ast.unparse(node.func)
            assert called not in ("eval", "exec", "compile", "os.system", "os.popen", "__import__"), (path, called)
            assert not any(word.arg == "shell" for word in node.keywords), (path, called)
        for name in _imported(node):
            assert name.split(".")[0] not in ("pickle", "marshal", "shelve", "yaml"), (path, name)


def test_only_these_modules_connect_anywhere() -> None:
    connecting = {path for path, node in _nodes() for name in _imported(node) if name in CONNECTING}
    assert connecting == {
        "portal/serving.py",  # asks whether its own port is free
        "portal/store/engine/postgresql.py",
        "portal/notices/post.py", "portal/notices/deadline.py", "portal/notices/returned_mail.py",
        "portal/running/installation/outside.py",  # `portal check`
    }


def test_no_weak_hash_or_random_number_is_used() -> None:
    """What is drawn for a forecast or a demo need not be unguessable."""
    for path, node in _nodes():
        if isinstance(node, ast.Attribute):
            assert node.attr not in ("md5", "sha1", "uuid1", "uuid4", "getrandbits"), (path, node.attr)
        if "random" in _imported(node):
            assert path.startswith(("portal/demo/", "portal/planning/")), path


def test_passwords_are_hashed_as_recommended() -> None:
    """RFC 9106, 4: the second choice, for where 2 GiB of memory are too much. Read off a hash that was made."""
    made = argon2.extract_parameters(hasher.hash("level to a sixteenth"))
    assert (made.type.name, made.version, made.hash_len, made.salt_len) == ("ID", 19, 32, 16)
    assert (made.time_cost, made.memory_cost, made.parallelism) == (3, 65536, 4)


def test_the_site_lists_no_folder() -> None:
    assert "autoindex" not in (CHECKOUT / "deploy/nginx.conf").read_text()


@pytest.fixture
def client(house: House, tmp_path: Path) -> FlaskClient:
    return serve_house(tmp_path).test_client()


def test_trace_is_refused(client: FlaskClient, house: House) -> None:
    for path in ("/", "/desk/", f"/p/{house.links['homeowner']}/", "/api/v1/projects", "/static/style.css"):
        assert client.open(path, method="TRACE").status_code == 405, path


def test_guarding_names_what_stands_in_code() -> None:
    for name, limit in LIMITS.items():
        row = next(row for row in GUARDING.splitlines() if f"`{name}`" in row)
        assert f"| {limit.many:,} |" in row and limit.whose in row, name
    for picture in PICTURES.values():
        assert picture.name.split()[-1] in GUARDING or "progressive" in picture.name, picture.name
    settings = set(re.findall(r"PORTAL_[A-Z_]+", (CHECKOUT / "portal/settings.py").read_text()))
    assert settings <= set(re.findall(r"PORTAL_[A-Z_]+", GUARDING))
    assert all(role in GUARDING for role in EVERYONE)
    assert f"password of {SHORTEST} characters" in GUARDING
    assert f"{LONGEST // 86400} days at most and {IDLE // 86400} days without use" in GUARDING


def _counted(numbers: str) -> range:
    first, _, last = numbers.partition("-")
    return range(int(first), int(last or first) + 1)


def _nodes() -> Iterator[tuple[str, ast.AST]]:
    for path in sorted((CHECKOUT / "portal").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text())):
            yield str(path.relative_to(CHECKOUT)), node


def _imported(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Import):
        return [one.name for one in node.names]
    return [node.module] if isinstance(node, ast.ImportFrom) and node.module else []
