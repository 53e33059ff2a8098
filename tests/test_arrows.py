"""Arrows point inward: skins -> acts -> store; pages -> what the snapshot holds; notices -> that, what pages say of it,
and the outbox; the pure packages know nothing but each other. Within a package they point down its floors. Read from
the source, so an import inside a function counts too."""

import ast
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

import networkx as nx
import pytest

ROOT = Path(__file__).parents[1]

PURE = {"words", "planning", "layouts", "drawings", "record"}
# Single modules that everyone but the pure packages may use, and that use only each other and the pure packages.
LEAVES = {"settings", "signing", "content", "folders", "photo_files"}
SKINS = {
    "request", "api", "web", "app", "cli", "commands", "backup", "copying", "serving", "demo", "clock",
    "running",
}  # fmt: skip
# Plain dataclasses, and the readings that fill them.
FACTS = {
    "store.facts", "store.told_facts", "store.refusals", "store.reading.snapshot", "store.reading.project_plan",
    "store.reading.published", "store.reading.forecasts", "store.reading.desk_lines",
    "store.reading.revisions.check_codes", "store.reading.crews.work",
    "store.reading.finish.moves", "store.reading.finish.told_causes",
}  # fmt: skip

INWARD = {
    # Tables of content/ are read once, as code is: portal.layouts.content_tables.
    **dict.fromkeys(PURE, PURE | {"folders"}),
    **dict.fromkeys(LEAVES, LEAVES | PURE),
    "store": {"store"} | LEAVES | PURE,
    "acts": {"acts", "store"} | LEAVES | PURE,
    "pages": {"pages"} | FACTS | LEAVES | PURE,
    "notices": {"notices", "pages", "store.rows.notice_rows", "store.rows.letters.mail_rows",
                "store.rows.letters.evening_rows",
                "store.rows.letters.staff_notice_rows"} | FACTS | LEAVES | PURE,
    **dict.fromkeys(SKINS, SKINS | {"acts", "store", "pages", "notices"} | LEAVES | PURE),
}
# The floors of a package, from the ground up: each knows those before it, none beside it. A group of modules is a
# folder; a module that lies beside folders stands for itself.
FLOORS = {
    "planning": "contract calendar day_list < crews household schedule < conflicts forecast late_answers moves "
                "starting_plans",
    "layouts": "form kept_checks notation unread < length < json_fields keys tolerance < content_tables "
               "< check < layout island < stone < deck pulls centerline overhang seam vanity "
               "< former_titles kinds < declared naming sizes < checks_today",
    "drawings": "scenes symbols < fronts sheets < forms < drawing_kinds form_kinds front_kinds writers "
                "< charts layout_answer vignettes",
    "record": "verdict log < papers < checking",
    "store": "told_facts < facts refusals last_made < engine < tables < migrations rows told < between_views "
             "< finding reading",
    "acts": "limits refusals times written < actor < entries telling < keeping visiting < household < decisions < plan "
            "< crews firm",
    "pages": "answers "
             "closed household_words in_the_way joined lateness plan_file signers unkept_visits "
             "where_and_when "
             "without_sums "
             "< warning_words environment outlook pictures undoing < days < calendar_file finish handover_words "
             "plain_pages telling < cards house < home < title_block < paper publishing < crew_day decision "
             "< closing evidence < own_copy",
    "api": "http access operations < resources description < register",
    "web": "answer forms < files public check refusing stop_mail up < crew desk house",
    "web.desk": "by_script conflict_words guessing slips < showing < ahead entering < blueprint < forms "
                "< chosen_photos < account door decisions firm people plan waiting < onsite "
                "< crews house < today < register",
}  # fmt: skip
# Each library has its floor: who else imports it has taken over someone's work.
LIBRARIES = {
    "flask": {"request", "api", "web", "app", "serving"},
    "werkzeug": {"request", "api", "web", "app", "serving"},
    "flask_smorest": {"api"},
    "marshmallow": {"api", "web", "app"},
    "gunicorn": {"serving"},
    "peewee": {"store"},
    "playhouse": {"store"},
    "sqlite3": {"store"},
    "psycopg": {"store"},
    "prometheus_client": {"running"},
    "icalendar": {"pages"},
    "openpyxl": {"pages"},
    "argon2": {"acts"},
    "pyotp": {"acts"},
    "zxcvbn": {"acts"},
}
# What gives a pure package the clock, the disk, the network or another process.
IMPURE_MODULES = {
    "os", "time", "sys", "shutil", "tempfile", "socket", "subprocess", "http", "urllib", "smtplib", "logging",
    "secrets", "asyncio", "multiprocessing", "argon2", "tqdm", "requests",
}  # fmt: skip
IMPURE_CALLS = {"open", "print", "input", "exec", "eval"}
IMPURE_METHODS = {"now", "utcnow", "today", "write_text", "write_bytes", "mkdir", "unlink"}


def module_name(path: Path, root: Path) -> str:
    """`store.facts` for portal/store/facts.py, `store` for portal/store/__init__.py."""
    return ".".join(path.relative_to(root / "portal").with_suffix("").parts).removesuffix(".__init__")


def modules(root: Path = ROOT) -> dict[str, ast.Module]:
    """Every module of the portal by its name without the leading `portal.`; the package itself is left out."""
    found = {module_name(path, root): ast.parse(path.read_text()) for path in (root / "portal").rglob("*.py")}
    found.pop("__init__")
    return found


@lru_cache(maxsize=1)
def ours() -> dict[str, ast.Module]:
    """Our own modules, read once."""
    return modules()


def imported(tree: ast.Module) -> Iterator[str]:
    """Absolute names, each as deep as written: `from portal.store import rows` is `portal.store.rows.editable`."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0 and node.module, f"line {node.lineno}: relative imports hide where an arrow points"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def portal_modules(name: str, known: set[str]) -> list[str]:
    """The module of ours that an imported name lies in, as deep as there is one; none for a library's."""
    parts = name.split(".")
    if parts[0] != "portal":
        return []
    deepest = next((".".join(parts[1:end]) for end in range(len(parts), 1, -1) if ".".join(parts[1:end]) in known), "")
    return [deepest] if deepest else []


def arrows(trees: dict[str, ast.Module]) -> set[tuple[str, str]]:
    known = set(trees)
    return {
        (module, target)
        for module, tree in trees.items()
        for name in imported(tree)
        for target in portal_modules(name, known)
        if target != module
    }


def prefixes(module: str) -> list[str]:
    """`store`, `store.rows` and `store.rows.editable` of the last."""
    parts = module.split(".")
    return [".".join(parts[:end]) for end in range(1, len(parts) + 1)]


def floors_of(package: str) -> dict[str, int]:
    return {
        name: floor for floor, names in enumerate(FLOORS[package].split(" < ")) for name in names.split()
    }


def upward(trees: dict[str, ast.Module]) -> list[str]:
    """The arrows that run up or along the floors of a package, and what stands on no floor."""
    found = set()
    for module, target in arrows(trees):
        for package in FLOORS:
            if module.startswith(package + ".") and target.startswith(package + "."):
                floors, depth = floors_of(package), package.count(".") + 1
                one, other = module.split(".")[depth], target.split(".")[depth]
                if one != other and not floors.get(other, 99) < floors.get(one, -1):
                    found.add(f"portal.{module} imports portal.{target}")
    return sorted(found)


def circles(trees: dict[str, ast.Module]) -> list[list[str]]:
    """Packages that need each other in the end. Modules beside the packages stand for themselves."""
    tops = {(one.split(".")[0], other.split(".")[0]) for one, other in arrows(trees)}
    graph = nx.DiGraph((one, other) for one, other in tops if one != other)
    return [sorted(knot) for knot in nx.strongly_connected_components(graph) if len(knot) > 1]


def outward(trees: dict[str, ast.Module]) -> list[str]:
    """The arrows that the design does not have. A package that INWARD does not name has none at all."""
    found = []
    for module, target in sorted(arrows(trees)):
        allowed = INWARD.get(module.split(".")[0], set())
        if not set(prefixes(target)) & allowed:
            found.append(f"portal.{module} imports portal.{target}")
    return found


def misplaced_libraries(trees: dict[str, ast.Module]) -> list[str]:
    return sorted(
        f"portal.{module} imports {name}"
        for module, tree in trees.items()
        for name in imported(tree)
        if module.split(".")[0] not in LIBRARIES.get(name.split(".")[0], {module.split(".")[0]})
    )


def impurities(trees: dict[str, ast.Module]) -> list[str]:
    """Where a pure package reaches for the clock, the disk or the world."""
    found = []
    for module, tree in trees.items():
        if module.split(".")[0] not in PURE:
            continue
        found += [f"portal.{module} imports {name}" for name in imported(tree) if name.split(".")[0] in IMPURE_MODULES]
        found += [f"portal.{module}, line {node.lineno}: {ast.unparse(node.func)}()" for node in impure_calls(tree)]
    return sorted(found)


def impure_calls(tree: ast.Module) -> Iterator[ast.Call]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            by_name = isinstance(node.func, ast.Name) and node.func.id in IMPURE_CALLS
            by_method = isinstance(node.func, ast.Attribute) and node.func.attr in IMPURE_METHODS
            if by_name or by_method:
                yield node


def test_arrows_point_inward() -> None:
    assert outward(ours()) == []


def test_arrows_point_down_the_floors_of_each_package() -> None:
    assert upward(ours()) == []


def test_every_group_stands_on_a_floor() -> None:
    names = ours()
    for package in FLOORS:
        depth = package.count(".") + 1
        inside = {name.split(".")[depth] for name in names if name.startswith(package + ".")}
        assert inside == set(floors_of(package)), package


def test_no_package_needs_itself_in_the_end() -> None:
    assert circles(ours()) == []


def test_each_library_stays_on_its_floor() -> None:
    assert misplaced_libraries(ours()) == []


def test_the_pure_packages_reach_for_nothing() -> None:
    assert impurities(ours()) == []


def test_no_module_needs_itself_in_the_end() -> None:
    graph = nx.DiGraph(arrows(ours()))
    assert [sorted(knot) for knot in nx.strongly_connected_components(graph) if len(knot) > 1] == []


@pytest.mark.parametrize(
    ("path", "line", "check"),
    [
        ("planning/schedule/paths.py", "from portal.store import facts", outward),
        ("store/rows/editable.py", "from portal.acts.actor import Actor", outward),
        ("acts/approve.py", "def late():\n    from portal import clock", outward),
        ("pages/page.py", "from portal.store.rows.editable import one", outward),
        ("notices/mail.py", "import portal.store.engine.database", outward),
        ("fittings/new.py", "from portal.planning.schedule import paths", outward),
        ("store/rows/editable.py", "from portal.store.reading import snapshot", upward),
        ("store/engine/database.py", "if TYPE_CHECKING:\n    from portal.store.rows import editable", upward),
        ("api/rooms.py", "from portal.web.answer import page", circles),
        ("acts/approve.py", "from flask import request", misplaced_libraries),
        ("api/projects.py", "from peewee import fn", misplaced_libraries),
        ("planning/schedule/paths.py", "from os import environ", impurities),
        ("record/chain.py", "from datetime import datetime\nat = datetime.now()", impurities),
        ("layouts/deck.py", "words = open('words.txt')", impurities),
    ],
)
def test_an_arrow_that_points_outward_is_seen(path: str, line: str, check: object, tmp_path: Path) -> None:
    known = {
        "planning/schedule/paths": "", "store/facts": "", "store/rows/editable": "", "store/engine/database": "",
        "store/reading/snapshot": "", "acts/actor": "", "clock": "", "__init__": "", "web/answer": "",
        "web/form": "from portal.api import rooms", "api/rooms": "",
    }
    for name, text in known.items():
        module = tmp_path / "portal" / f"{name}.py"
        module.parent.mkdir(parents=True, exist_ok=True)
        module.write_text(text)
    assert callable(check)
    assert check(modules(tmp_path)) == []
    changed = tmp_path / "portal" / path
    changed.parent.mkdir(exist_ok=True)
    changed.write_text(line)
    assert len(check(modules(tmp_path))) == 1
