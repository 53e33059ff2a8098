"""`python -m tests.figures [CHECKOUT]`: the size of the house in figures, so that two states of it can be compared.

Lines are counted as they stand; `code` leaves out blank lines, comments and docstrings.
"""

import ast
import sys
from collections import Counter
from pathlib import Path

PURE = ("words", "planning", "layouts", "drawings", "record")


def lines(paths: list[Path]) -> tuple[int, int]:
    """All lines of the files, and those that are code."""
    texts = [path.read_text() for path in paths]
    return sum(len(text.splitlines()) for text in texts), sum(map(code_lines, texts))


def code_lines(text: str) -> int:
    telling = {
        line
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str)
        for line in range(node.lineno, (node.end_lineno or node.lineno) + 1)
    }
    return sum(
        1 for number, line in enumerate(text.splitlines(), 1)
        if line.strip() and not line.strip().startswith("#") and number not in telling
    )


def public(tree: ast.Module) -> list[ast.AST]:
    """Functions, classes and methods that others may call: none of a private class or inside a function."""
    found: list[ast.AST] = []
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            found.append(node)
            if isinstance(node, ast.ClassDef):
                found += [one for one in node.body if isinstance(one, ast.FunctionDef) and not one.name.startswith("_")]
    return found


def main(root: Path) -> None:
    source, tests = sorted((root / "portal").rglob("*.py")), sorted((root / "tests").rglob("*.py"))
    folders = Counter(path.parent.relative_to(root) for path in source if path.stem != "__init__")
    print(f"modules {len(source)}, folders {len(folders)}; the fullest:",
          ", ".join(f"{folder} {count}" for folder, count in folders.most_common(6)))
    (said, code), (tested, test_code) = lines(source), lines(tests)
    print(f"source {said} lines, code {code}; tests {tested} lines, code {test_code}")
    print(f"tests : source {tested / said:.2f}, of code {test_code / code:.2f}")
    for package in sorted(path for path in (root / "portal").iterdir() if path.is_dir() and any(path.rglob("*.py"))):
        inside, mirrored = sorted(package.rglob("*.py")), sorted((root / "tests" / package.name).rglob("*.py"))
        trees = [ast.parse(path.read_text()) for path in inside]
        names = [node for tree in trees for node in public(tree)]
        bare = sum(1 for node in names if not ast.get_docstring(node))  # type: ignore[arg-type]
        own, own_tests = lines(inside)[0], lines(mirrored)[0]
        mark = " (pure)" if package.name in PURE else ""
        print(f"  {package.name}{mark}: {own} lines, tests {own_tests / own:.2f};",
              f"public {len(names)}, without docstring {bare}")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parents[1])
