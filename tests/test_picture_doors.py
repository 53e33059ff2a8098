"""Every door through which a picture comes leads to the one function that keeps photos: each is tried with a picture
that says it has 3,600 million pixels. A new form with a file, or a new body with one, is found by itself."""

import ast
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from urllib.parse import urljoin
from xml.etree.ElementTree import Element

from flask import Flask

from portal.acts.household.handovers import offer_handover
from tests.acts.keeping.pictures.drawn import png_head
from tests.house import NOW, House
from tests.served import ApiClient, bearer_for
from tests.web.conftest import app, manager, opened  # noqa: F401  the desk and the house, as people open them
from tests.web.plain import X, check_plain
from tests.web.signed_in import Desk, filled
from tests.web.test_who_may import ids, pages

ROOT = Path(__file__).parents[1]
OPENS_PICTURES = {
    "acts/keeping/pictures/heads.py": "a stranger's, in a process of its own",
    "acts/keeping/pictures/shrinking.py": "a stranger's, in a process of its own",
    "acts/keeping/photos.py": "the size of one that we made",
    "demo/pictures.py": "draws those of the demo",
}
KEEPS_PICTURES = {
    "request/sent_photos.py": "the door of both skins",
    "demo/seed.py": "those that the demo draws",
}
READS_FILES = {
    "request/sent_photos.py": "the door of both skins",
    "web/desk/plan/plan_file.py": "a sheet, whose cells alone are read (tests/pages/plan_file)",
    "request/sent/left_files.py": "left unopened for a form whose session has ended, to be opened at its own door",
    "web/desk/entering/beside.py": "whether such a form has any",
    "web/forms/once.py": "names and lengths of files, for the mark of a form",
    "api/http/idempotency.py": "the hash of each, to know a request that comes again",
}
WORDS = {"text": "Here", "item": "A chip"}
"""What else a form must have."""


def bomb() -> tuple[BytesIO, str]:
    return BytesIO(png_head(60_000, 60_000)), "sink.png"


def mentions(said: Callable[[ast.AST], bool]) -> set[str]:
    return {
        str(path.relative_to(ROOT / "portal"))
        for path in (ROOT / "portal").rglob("*.py")
        if any(said(node) for node in ast.walk(ast.parse(path.read_text())))
    }


def test_nobody_else_opens_pictures_keeps_them_or_reads_files() -> None:
    def imports(node: ast.AST, name: str) -> bool:
        return isinstance(node, ast.ImportFrom) and (
            (node.module or "").split(".")[0] == name or name in {one.name for one in node.names}
        ) or isinstance(node, ast.Import) and any(one.name.split(".")[0] == name for one in node.names)

    assert mentions(lambda node: imports(node, "PIL")) == set(OPENS_PICTURES)
    assert mentions(lambda node: imports(node, "keep_photo")) == set(KEEPS_PICTURES)
    reading = mentions(lambda node: isinstance(node, ast.Attribute) and ast.unparse(node) == "request.files")
    assert reading == set(READS_FILES)


def in_tray(reader: Desk) -> list[Element]:
    """The camera at hand: the same form on each page of a house."""
    trays = [one for one in reader.page.iter(f"{X}nav") if one.get("class") == "tray"]
    return [form for tray in trays for form in tray.iter(f"{X}form")]


def tried(reader: Desk, tray: bool = False) -> set[str]:
    """The fields for files of the page that `reader` has open, each having refused the picture; those of the tray only
    if that is asked for."""
    doors = set()
    at_hand = in_tray(reader)
    for form in at_hand if tray else [one for one in reader.page.iter(f"{X}form") if one not in at_hand]:
        takers = [one for one in form.iter(f"{X}input") if one.get("type") == "file"]
        for field in [one.get("name") for one in takers if ".csv" not in (one.get("accept") or "")]:
            for way in {button.get("formaction") or form.get("action") or "" for button in form.iter(f"{X}button")}:
                sent = {name: value or WORDS.get(name, "") for name, value in filled(form).items()} | {field: bomb()}
                answer = reader.client.post(urljoin(reader.path, way), data=sent)
                assert b"too many pixels: 3600 million" in answer.data, (reader.path, way, field)
            doors.add(str(field))
    return doors


def test_each_form_of_the_desk_that_takes_a_file_refuses_it(app: Flask, manager: Desk, house: House) -> None:  # noqa: F811
    doors = {(name, field) for name, way in pages(app, ids(house)) for field in tried(manager.open(way))}
    options = {(name, f"options.{number}.sent") for number in range(6)
               for name in ("ask", "again", "layouts_again", "ask_as_planned")}
    assert doors == {("new_update", "photos"), ("project", "photos"), ("new_item", "photo"),
                     ("change_item", "photo")} | options
    assert tried(manager.open(f"/desk/projects/{house.project}/work/"), tray=True) == {"photos"}


def test_each_form_under_a_link_that_takes_a_file_refuses_it(
    app: Flask, opened: Callable[[str], Desk], house: House  # noqa: F811
) -> None:
    handover = offer_handover(house.manager, house.project, phase=house.phases["floor"], note="", items=[], now=NOW)
    reader, routes = opened("homeowner"), app.url_map.bind("localhost")
    given = {"link": house.links["homeowner"], "number": 1, "handover_id": handover.id}
    doors = set()
    for rule in app.url_map.iter_rules():
        if rule.endpoint.startswith("house.") and "GET" in (rule.methods or ()) and rule.arguments <= set(given):
            way = routes.build(rule.endpoint, {name: given[name] for name in rule.arguments})
            shown = reader.client.get(way)
            if shown.status_code == 200 and (shown.content_type or "").startswith("text/html"):
                reader.path, reader.page = way, check_plain(shown.get_data(as_text=True), way, routes)
                doors |= {(rule.endpoint, field) for field in tried(reader)}
    assert doors == {("house.handover", "photo"), ("house.status_page", "photo"), ("house.messages", "photo")}


def test_each_body_of_the_api_that_takes_a_file_refuses_it(app: Flask, house: House) -> None:  # noqa: F811
    client = ApiClient(app.test_client(), bearer_for(house, "manager"))
    doors = set()
    senders = {"updates": client.bearer, "messages": house.links["homeowner"], "photos": client.bearer}
    for path, operations in client.get("openapi.json").get_json()["paths"].items():
        for method, operation in operations.items():
            kinds = operation.get("requestBody", {}).get("content", {}) if isinstance(operation, dict) else {}
            for field, shape in kinds.get("multipart/form-data", {}).get("schema", {}).get("properties", {}).items():
                if "contentMediaType" in str(shape):
                    answer = client.client.open(
                        path.replace("{project_id}", str(house.project)), method=method.upper(),
                        headers={"Authorization": f"Bearer {senders[path.rpartition('/')[2]]}"},
                        data={field: bomb()} | ({} if path.endswith("/photos") else {"text": "Here"}),
                    )  # fmt: skip
                    assert answer.status_code == 422 and "too many pixels" in answer.get_json()["detail"]
                    doors.add((path, field))
    under = "/api/v1/projects/{project_id}"
    assert doors == {(f"{under}/updates", "photos"), (f"{under}/messages", "photo"), (f"{under}/photos", "photo")}
