"""Every small change that can be made in a source file: one operator, one constant, one condition, one statement."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from types import CodeType

from tests.mutating.replacements import Replacement, replacements_of

LONGEST_SHOWN = 110  # what is shown grows around the change up to this length
COMPOUND = (
    ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef, ast.If, ast.For, ast.While, ast.With, ast.Try, ast.Match,
    ast.ExceptHandler, ast.match_case, ast.Module, ast.arguments,
)  # fmt: skip


@dataclass(frozen=True)
class Spot:
    """The `number`-th change that can be made in the file. `lines` run it: of the node, then of what is around it."""

    path: Path
    number: int
    lines: tuple[tuple[int, int], ...]
    slight: bool  # in the wording of something: drawn less often than a change in what is done

    @property
    def line(self) -> int:
        return self.lines[0][0]


@dataclass(frozen=True)
class Change:
    """One change as it is shown and run. `before` and `after` are the code around it, written in one line."""

    path: Path
    line: int
    before: str
    after: str
    code: CodeType


@dataclass(frozen=True)
class _Place:
    """Where a node hangs. `index` is None where its field holds one node."""

    parent: ast.AST
    field: str
    index: int | None
    node: ast.AST

    def put(self, new: ast.AST) -> None:
        if self.index is None:
            setattr(self.parent, self.field, new)
        else:
            getattr(self.parent, self.field)[self.index] = new


def spots_in(path: Path) -> list[Spot]:
    """List every place and way in which this file can be changed, in the order of its text."""
    found = []
    for number, (ways, replacement) in enumerate(_possible(ast.parse(path.read_text(encoding="utf-8")))):
        lines = tuple(_lines(place.node) for place in reversed(ways) if hasattr(place.node, "lineno"))
        found.append(Spot(path, number, lines, replacement.slight))
    return found


def change_at(spot: Spot) -> Change | None:
    """Make this change. None: it reads as before, or is no Python."""
    tree = ast.parse(spot.path.read_text(encoding="utf-8"))
    ways, replacement = next(found for number, found in enumerate(_possible(tree)) if number == spot.number)
    shown = _shown(ways)
    before = ast.unparse(shown.node)
    ways[-1].put(replacement.new)
    after = ast.unparse(replacement.new if shown is ways[-1] else shown.node)
    try:
        code = compile(ast.fix_missing_locations(tree), str(spot.path), "exec", dont_inherit=True)
    except (SyntaxError, ValueError):
        return None
    if before == after:
        return None
    return Change(spot.path, spot.line, _in_one_line(before), _in_one_line(after), code)


def _lines(node: ast.AST) -> tuple[int, int]:
    first: int = node.lineno  # type: ignore[attr-defined]
    if isinstance(node, COMPOUND):
        return first, first  # its body is run by others
    return first, node.end_lineno or first  # type: ignore[attr-defined]


def _shown(ways: list[_Place]) -> _Place:
    """Go outwards as long as the code still reads at a glance and is no whole block."""
    shown = ways[-1]
    for place in reversed(ways):
        if isinstance(place.node, COMPOUND) or len(ast.unparse(place.node)) > LONGEST_SHOWN:
            break
        shown = place
    return shown


def _in_one_line(text: str) -> str:
    return " ".join(text.split())


def _possible(tree: ast.Module) -> Iterator[tuple[list[_Place], Replacement]]:
    yield from _walk(tree, [])


def _walk(parent: ast.AST, ways: list[_Place]) -> Iterator[tuple[list[_Place], Replacement]]:
    for place in _places(parent):
        here = [*ways, place]
        around = [way.node for way in ways]
        for replacement in replacements_of(place.node, around):
            yield here, replacement
        yield from _walk(place.node, here)


def _places(parent: ast.AST) -> Iterator[_Place]:
    for field, value in ast.iter_fields(parent):
        if _says_nothing(parent, field):
            continue
        if isinstance(value, ast.AST):
            yield _Place(parent, field, None, value)
        elif isinstance(value, list):
            for index, node in enumerate(value):
                if isinstance(node, ast.AST) and not (field == "body" and _is_docstring(node)):
                    yield _Place(parent, field, index, node)


def _says_nothing(parent: ast.AST, field: str) -> bool:
    """Types, decorators, formats and what only a type checker reads: no test can be asked to tell."""
    if field in ("annotation", "returns", "decorator_list", "format_spec", "ctx", "type_comment", "msg"):
        return True
    if isinstance(parent, ast.Subscript) and ast.unparse(parent.value) in ("Literal", "Annotated", "Callable"):
        return True
    if isinstance(parent, ast.Call) and ast.unparse(parent.func) in ("TypeVar", "NewType", "cast", "namedtuple"):
        return True
    if isinstance(parent, ast.Assign) and ast.unparse(parent.targets[0]) in ("__all__", "__slots__"):
        return True
    return isinstance(parent, ast.If) and ast.unparse(parent.test) == "TYPE_CHECKING"


def _is_docstring(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
