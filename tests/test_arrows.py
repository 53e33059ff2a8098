"""Arrows point inward: skins -> acts -> store; pages -> what the snapshot holds; notices -> that, what pages say of it,
and the outbox; the pure packages know nothing but each other. Read from the source, so an import inside a function
counts too."""

import ast
from collections.abc import Iterator
from pathlib import Path

import networkx as nx
import pytest

ROOT = Path(__file__).parents[1]

PURE = {"planning", "layouts", "drawings", "record"}
# Single modules that everyone but the pure packages may use, and that use only each other and the pure packages.
LEAVES = {"settings", "signing", "prose", "content", "when", "typed"}
SKINS = {"api", "web", "cli", "commands", "backup", "copying", "serving", "demo", "clock"}
# Plain dataclasses, and the readings that fill them.
FACTS = {
    "store.facts", "store.snapshot", "store.planned", "store.published", "store.forecasts", "store.desk_lines",
    "store.refusals",
}

INWARD = {
    **dict.fromkeys(PURE, PURE),
    **dict.fromkeys(LEAVES, LEAVES | PURE),
    "store": {"store"} | LEAVES | PURE,
    "acts": {"acts", "store"} | LEAVES | PURE,
    "pages": {"pages"} | FACTS | LEAVES | PURE,
    "notices": {"notices", "pages", "store.notice_rows"} | FACTS | LEAVES | PURE,
    **dict.fromkeys(SKINS, SKINS | {"acts", "store", "pages", "notices"} | LEAVES | PURE),
}
# Each library has its floor: who else imports it has taken over someone's work.
LIBRARIES = {
    "flask": {"api", "web", "serving"},
    "werkzeug": {"api", "web", "serving"},
    "flask_smorest": {"api"},
    "marshmallow": {"api", "web"},
    "gunicorn": {"serving"},
    "peewee": {"store"},
    "playhouse": {"store"},
    "sqlite3": {"store"},
    "psycopg": {"store"},
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
    return {
        (module, target)
        for module, tree in trees.items()
        for name in imported(tree)
        for target in portal_modules(name, set(trees))
        if target != module
    }


def outward(trees: dict[str, ast.Module]) -> list[str]:
    """The arrows that the design does not have. A package that INWARD does not name has none at all."""
    found = []
    for module, target in sorted(arrows(trees)):
        allowed = INWARD.get(module.split(".")[0], set())
        if not {target, ".".join(target.split(".")[:2]), target.split(".")[0]} & allowed:
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
    assert outward(modules()) == []


def test_each_library_stays_on_its_floor() -> None:
    assert misplaced_libraries(modules()) == []


def test_the_pure_packages_reach_for_nothing() -> None:
    assert impurities(modules()) == []


class WithoutTypes(ast.NodeTransformer):
    """Drops `if TYPE_CHECKING:`, which only names a type and loads nothing."""

    def visit_If(self, node: ast.If) -> ast.If | None:  # noqa: N802 - ast's name
        return None if ast.unparse(node.test) == "TYPE_CHECKING" else node


def test_no_module_needs_itself_in_the_end() -> None:
    graph = nx.DiGraph(arrows({name: WithoutTypes().visit(tree) for name, tree in modules().items()}))
    assert [sorted(knot) for knot in nx.strongly_connected_components(graph) if len(knot) > 1] == []


@pytest.mark.parametrize(
    ("path", "line", "check"),
    [
        ("planning/paths.py", "from portal.store import facts", outward),
        ("store/rows.py", "from portal.acts.actor import Actor", outward),
        ("acts/approve.py", "def late():\n    from portal import clock", outward),
        ("pages/page.py", "from portal.store.rows.editable import one", outward),
        ("notices/mail.py", "import portal.store.engine.database", outward),
        ("fittings/new.py", "from portal.planning import paths", outward),
        ("acts/approve.py", "from flask import request", misplaced_libraries),
        ("api/projects.py", "from peewee import fn", misplaced_libraries),
        ("planning/paths.py", "from os import environ", impurities),
        ("record/chain.py", "from datetime import datetime\nat = datetime.now()", impurities),
        ("layouts/deck.py", "words = open('words.txt')", impurities),
    ],
)
def test_an_arrow_that_points_outward_is_seen(path: str, line: str, check: object, tmp_path: Path) -> None:
    for name in ("planning/paths", "store/facts", "store/rows", "store/database", "acts/actor", "clock", "__init__"):
        module = tmp_path / "portal" / f"{name}.py"
        module.parent.mkdir(parents=True, exist_ok=True)
        module.touch()
    assert callable(check)
    assert check(modules(tmp_path)) == []
    changed = tmp_path / "portal" / path
    changed.parent.mkdir(exist_ok=True)
    changed.write_text(line)
    assert len(check(modules(tmp_path))) == 1
