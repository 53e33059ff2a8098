"""What people read is made in pages, notices, content, words and one words module a kind of layout. Elsewhere stand
facts, and refusals: one class a reason, with one sentence, raised where it is refused. Read from the source."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
FORBIDDEN = ("planning", "store", "acts", "request", "web/house")
REFUSED = re.compile(r"(Refused|Error|OutOfReach|NotText)$")
REFUSING = {"FieldRefused", "needed", "reason_given", "signature", "fault"}
"""What is called with the sentence that a refusal is raised with."""
SENTENCE = re.compile(r"[A-Z“…x][^\n]*? [^\n]* [^\n]*[.?!]|[^\n]*[a-z]\. [A-Z][^\n]*")
"""Three words or more that end like a sentence, or two sentences. What is put in stands as `x`."""
SQL = re.compile(r"\s*(SELECT|INSERT|UPDATE|DELETE|WITH|CREATE|ALTER|WHERE|FROM|AND|JOIN|PRAGMA|VACUUM)\b")

ALLOWED = {
    "store/refusals.py": "the sentence of every refusal that has none of its own",
    "store/rows/editable.py": "why a row can't be removed, by table: raised as a refusal",
    "store/rows/notice_rows.py": "SQL with the beginning put in",
    "acts/decisions/answers.py": "what signature() refuses with",
    "acts/decisions/layout_options.py": "what it refuses a layout with",
    "acts/decisions/holds.py": "what its faults say, its callers refuse with",
}


def sentences(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Line and text of each sentence in a module, but for docstrings and what is raised."""
    skipped = {id(node) for part in ast.walk(tree) if _is_said_elsewhere(part) for node in ast.walk(part)}
    inside = {id(value) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for value in node.values}
    for node in ast.walk(tree):
        if id(node) in skipped or id(node) in inside:
            continue
        text = _text(node)
        if text and SENTENCE.fullmatch(" ".join(text.split())) and not SQL.match(text):
            yield node.lineno, text  # type: ignore[attr-defined]


def said_elsewhere(root: Path = ROOT) -> list[str]:
    """Where a package that has facts makes sentences."""
    return [
        f"portal/{path.relative_to(root / 'portal')}, line {line}: {text}"
        for package in FORBIDDEN
        for path in sorted((root / "portal" / package).rglob("*.py"))
        if str(path.relative_to(root / "portal")) not in ALLOWED
        for line, text in sentences(ast.parse(path.read_text()))
    ]


def _text(node: ast.AST) -> str:
    if isinstance(node, ast.JoinedStr):
        return "".join(one.value if isinstance(one, ast.Constant) else "x" for one in node.values)  # type: ignore[misc]
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def _is_said_elsewhere(node: ast.AST) -> bool:
    """A text that stands alone documents what is above it; a `message` is what a refusal is raised with."""
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        return True
    if isinstance(node, ast.Raise):
        return True
    if isinstance(node, ast.Assign):
        return ast.unparse(node.targets[0]) == "message"
    if isinstance(node, ast.Call):
        return ast.unparse(node.func).split(".")[-1] in REFUSING
    if isinstance(node, ast.ClassDef):
        return any(REFUSED.search(ast.unparse(base)) for base in node.bases)
    return False


def test_what_people_read_has_its_home() -> None:
    assert said_elsewhere() == []


def test_what_is_allowed_is_there() -> None:
    assert [name for name in ALLOWED if not list(sentences(ast.parse((ROOT / "portal" / name).read_text())))] == []


@pytest.mark.parametrize(
    ("line", "seen"),
    [
        ("words = f'“{name}” is not finished before {day}.'", True),
        ("words = 'Fill jugs first.'", True),
        ("say(f'{count} are open. Call us')", True),
        ("raise FieldRefused('name', 'Type your full name.')", False),
        ("class Late(Refused):\n    sentence = 'It is too late now.'", False),
        ("message = 'Choose one of them.'\nraise FieldRefused('room', message)", False),
        ("kind = 'no_way_in'", False),
        ("sql = 'SELECT a FROM b WHERE c = ?'", False),
        ("def of() -> None:\n    \"\"\"Says what it does here.\"\"\"", False),
    ],
)
def test_a_sentence_is_known_from_what_is_none(line: str, seen: bool, tmp_path: Path) -> None:
    module = tmp_path / "portal" / "planning" / "new.py"
    module.parent.mkdir(parents=True)
    module.write_text(line)
    assert len(said_elsewhere(tmp_path)) == seen
