"""One apostrophe, ’, in all that we say on pages. What people typed stays as they typed it.

From memory: the Unicode Standard, 6.2, prefers U+2019 for an apostrophe.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from portal.folders import CONTENT

PORTAL = Path(__file__).parents[2] / "portal"
SAID = [
    *(path for folder in ("pages", "web") for path in sorted((PORTAL / folder).rglob("*.py"))),
    *sorted((PORTAL / "layouts").glob("*/words.py")), *sorted((PORTAL / "acts").rglob("refusals.py")),
    PORTAL / "store/refusals.py", PORTAL / "api/http/shapes.py", PORTAL / "words/typed.py",
]  # fmt: skip
ELSEWHERE = {
    "pages/paper/sheet.py": "a printed sheet stays as it was printed",
    "layouts/pulls/words.py": "so does this",
    "pages/publishing/publish.py": "a line of the log",
}
STRAIGHT = re.compile(r"[A-Za-z]'[a-z]")


def texts_of(tree: ast.Module) -> Iterator[str]:
    """All but docstrings, and what is no sentence."""
    documented = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in documented:
            yield node.value


def test_what_code_says_on_pages_has_one() -> None:
    found = {
        str(path.relative_to(PORTAL)): text
        for path in SAID
        for text in texts_of(ast.parse(path.read_text(encoding="utf-8")))
        if STRAIGHT.search(text)
    }
    assert len(SAID) > 200 and {name: text for name, text in found.items() if name not in ELSEWHERE} == {}
    assert set(found) == set(ELSEWHERE), "an exception that is none any more"


def test_what_templates_and_content_say_has_one() -> None:
    shown = {path: text_of(path) for folder in ("pages", "web") for path in (PORTAL / folder).rglob("*.html")}
    shown |= {path: text_of(path) for kind in ("*.md", "*.toml") for path in CONTENT.rglob(kind)}
    assert len(shown) > 100
    assert [str(path) for path, text in shown.items() if STRAIGHT.search(text)] == []


def text_of(path: Path) -> str:
    """Without comments."""
    text = path.read_text(encoding="utf-8")
    comment = r"(?m)^#.*$" if path.suffix == ".toml" else r"(?s)\{#.*?#\}"
    return re.sub(comment, "", text)


def test_a_straight_one_is_found() -> None:
    assert STRAIGHT.search("It can't be") and not STRAIGHT.search("It can’t be, said O'Brien")
