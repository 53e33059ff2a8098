"""What may stand in a node's place: a near miss that whoever wrote the line could have written."""

import ast
import re
from collections.abc import Iterator, Sequence
from copy import deepcopy
from dataclasses import dataclass

COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
CALCULATED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Add, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
    ast.Mod: ast.FloorDiv, ast.Pow: ast.Mult, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
    ast.LShift: ast.RShift, ast.RShift: ast.LShift,
}  # fmt: skip
CALLED = {"min": "max", "max": "min", "any": "all", "all": "any", "ceil": "floor", "floor": "ceil"}
# The order of what they are given says nothing, or a swap is no near miss.
SYMMETRIC = {"min", "max", "gcd", "isinstance", "issubclass", "getattr", "hasattr", "setattr", "zip", "print"}
TEXT = (ast.JoinedStr, ast.List, ast.Tuple)
SELECTED = re.compile(r"\b(SELECT (?:DISTINCT )?)([\w.]+), ([\w.]+)\b(?=.*\bFROM\b)", re.S)
SQL = [(" AND ", " OR "), (" DESC", ""), (" ASC", " DESC"), (" <= ", " < "), (" < ", " <= "), (" >= ", " > ")]


@dataclass(frozen=True)
class Replacement:
    """The node that is put in; `slight` where it only words something."""

    new: ast.AST
    slight: bool = False


def replacements_of(node: ast.AST, around: Sequence[ast.AST]) -> Iterator[Replacement]:
    """Yield what may stand in this node's place. `around` are the nodes that hold it, outermost first."""
    if isinstance(node, ast.expr):
        yield from _of_expression(node, around)
        yield from _of_condition(node, around[-1])
    elif isinstance(node, ast.comprehension) and node.ifs:
        yield Replacement(_with(node, ifs=node.ifs[1:]))
    elif isinstance(node, ast.Return) and node.value is not None and not _is_none(node.value):
        yield Replacement(_with(node, value=ast.Constant(None)))
    elif isinstance(node, ast.AugAssign):
        yield Replacement(ast.Pass())
        if type(node.op) in CALCULATED and not isinstance(node.value, TEXT):
            yield Replacement(_with(node, op=CALCULATED[type(node.op)]()))
    elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Call):
        yield Replacement(ast.Pass())
    elif isinstance(node, ast.Continue):
        yield Replacement(ast.Break())
    elif isinstance(node, ast.Break):
        yield Replacement(ast.Continue())


def _of_expression(node: ast.expr, around: Sequence[ast.AST]) -> Iterator[Replacement]:
    if isinstance(node, ast.Constant):
        yield from _of_constant(node, around)
    elif isinstance(node, ast.Compare):
        for index, operator in enumerate(node.ops):
            ops = [*node.ops[:index], COMPARED[type(operator)](), *node.ops[index + 1 :]]
            yield Replacement(_with(node, ops=ops))
    elif isinstance(node, ast.BinOp) and type(node.op) in CALCULATED and not _joins_text(node):
        yield Replacement(_with(node, op=CALCULATED[type(node.op)]()))
    elif isinstance(node, ast.BoolOp):
        yield Replacement(_with(node, op=ast.Or() if isinstance(node.op, ast.And) else ast.And()))
        yield Replacement(node.values[0] if len(node.values) == 2 else _with(node, values=node.values[:-1]))
    elif isinstance(node, ast.UnaryOp):
        yield Replacement(node.operand)
    elif isinstance(node, ast.Slice):
        yield from (Replacement(_with(node, **{end: None})) for end in ("lower", "upper") if getattr(node, end))
    elif isinstance(node, ast.Call):
        yield from _of_call(node)


def _of_condition(node: ast.expr, holder: ast.AST) -> Iterator[Replacement]:
    """Force what an `if` asks; a `while` that always goes on only costs the time until it is ended."""
    if isinstance(holder, ast.If | ast.IfExp | ast.While) and holder.test is node:
        ways = (False,) if isinstance(holder, ast.While) else (True, False)
        yield from (Replacement(ast.Constant(value)) for value in ways)


def _of_constant(node: ast.Constant, around: Sequence[ast.AST]) -> Iterator[Replacement]:
    if isinstance(node.value, bool):
        yield Replacement(ast.Constant(not node.value))
    elif isinstance(node.value, int | float):
        yield Replacement(ast.Constant(node.value + 1))
    elif isinstance(node.value, str) and not any(isinstance(outer, ast.Raise) for outer in around):
        changed = list(_of_sql(node.value)) if re.search(r"[A-Z]{3,} ", node.value) else []
        yield from (Replacement(ast.Constant(text)) for text in changed)
        if not changed:
            yield Replacement(ast.Constant(f"another {node.value}" if node.value else "something"), slight=True)


def _of_sql(text: str) -> Iterator[str]:
    """Swap two columns that are selected, turn a comparison or the order."""
    swapped = SELECTED.sub(r"\1\3, \2", text, count=1)
    if swapped != text:
        yield swapped
    for before, after in SQL:
        if before in text:
            yield text.replace(before, after, 1)


def _of_call(node: ast.Call) -> Iterator[Replacement]:
    name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
    if name in CALLED:
        func = deepcopy(node.func)
        setattr(func, "attr" if isinstance(func, ast.Attribute) else "id", CALLED[name])
        yield Replacement(_with(node, func=func))
    if name in ("sorted", "sort"):
        kept = [keyword for keyword in node.keywords if keyword.arg != "reverse"]
        turned = [] if len(kept) < len(node.keywords) else [ast.keyword("reverse", ast.Constant(True))]
        yield Replacement(_with(node, keywords=[*kept, *turned]))
    if isinstance(node.func, ast.Attribute) and name in ("strip", "lower", "upper", "casefold") and not node.args:
        yield Replacement(node.func.value)
    if _can_be_swapped(node, name):
        yield Replacement(_with(node, args=[node.args[1], node.args[0], *node.args[2:]]))


def _can_be_swapped(node: ast.Call, name: str) -> bool:
    first_two = node.args[:2]
    return (
        len(first_two) == 2
        and name not in SYMMETRIC
        and all(isinstance(argument, ast.Name | ast.Attribute | ast.Call) for argument in first_two)
    )


def _joins_text(node: ast.BinOp) -> bool:
    return any(isinstance(side, TEXT) or _is_text(side) for side in (node.left, node.right))


def _is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def _is_none(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def _with(node: ast.AST, **fields: object) -> ast.AST:
    """The same node with some fields told anew; what it holds is shared with it."""
    new = type(node)(**(dict(ast.iter_fields(node)) | fields))
    return ast.copy_location(new, node)
