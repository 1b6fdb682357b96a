"""Makes the small wrong changes: each is one changed expression in one module."""

from __future__ import annotations

import ast
import random
from collections import Counter, defaultdict
from collections.abc import Iterator
from functools import cache
from itertools import zip_longest
from pathlib import Path
from typing import Any, NamedTuple

ROOMS = ("geometry", "templates_out")
TOLERANCE = 1e-3
"""A smaller constant is a tolerance of a comparison: a tenth more of it is as good."""

_TURNED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.Gt, ast.Gt: ast.Lt, ast.LtE: ast.GtE, ast.GtE: ast.LtE, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
_TOLERANCES = {"CLOSE", "_EXACT"}
_SIGN: dict[type[ast.operator], type[ast.operator]] = {ast.Add: ast.Sub, ast.Sub: ast.Add}
_CALLS = {"min": "max", "max": "min", "any": "all", "all": "any", "ceil": "floor", "floor": "ceil", "sin": "cos", "cos": "sin"}
_PAIRS = (("port", "starboard"), ("upper", "lower"), ("left", "right"), ("top", "bottom"), ("inner", "outer"),
          ("inside", "outside"), ("width", "height"), ("across", "up"), ("start", "end"), ("first", "last"),
          ("x", "y"))  # fmt: skip
_SIDES = {a: b for pair in _PAIRS for a, b in (pair, pair[::-1])}
_SIDES |= {name.upper(): other.upper() for name, other in _SIDES.items()}
_SAID = {"port", "starboard", "upper", "lower", "inner", "outer", "inside", "outside", "PORT", "STARBOARD"}
"""The sides that a text is changed by; in texts the other pairs are other words."""
_EITHER_WAY = {"min", "max", "hypot", "dist", "isclose", "gcd", "isinstance", "getattr", "hasattr", "replace",
               "cast", "print", "next"}  # fmt: skip
_SKIPPED = {"annotation", "returns", "decorator_list", "bases", "keywords_of_class", "type_params"}
_TEXTS = (ast.List, ast.Tuple, ast.JoinedStr, ast.ListComp)


class Site(NamedTuple):
    """A place in a module's tree and the expression to put there."""

    kind: str
    function: str
    line: int
    parent: ast.AST
    field: str
    place: int | None
    old: ast.expr
    new: ast.expr
    statement: ast.stmt


class Change(NamedTuple):
    """A wrong change: where it is, what it was and what it becomes; `number` counts equal ones in a function."""

    path: str
    function: str
    kind: str
    before: str
    after: str
    number: int
    line: int
    statement: str

    @property
    def key(self) -> str:
        """Return a name that stays when lines move."""
        return " | ".join((self.path, self.function, f"{self.before} -> {self.after}", str(self.number)))


@cache
def attributes(root: Path) -> frozenset[str]:
    """Return every name that follows a dot in the rooms."""
    trees = (ast.parse(path.read_text(encoding="utf-8")) for path in modules(root))
    return frozenset(node.attr for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Attribute))


def modules(root: Path) -> list[Path]:
    """Return the modules to change."""
    return [path for room in ROOMS for path in sorted((root / room).rglob("*.py")) if path.name != "__init__.py"]


def head(statement: ast.stmt) -> str:
    """Return the first line of a statement, by which the map knows it."""
    return ast.unparse(statement).split("\n", 1)[0]


def sites(tree: ast.Module, attrs: frozenset[str]) -> Iterator[Site]:
    """Return every wrong change of a module, in one order."""
    for statement in tree.body:
        yield from _walk(statement, "", statement, (), attrs)


def _walk(node: ast.AST, function: str, statement: ast.stmt, names: tuple[str, ...], attrs: frozenset[str]) -> Iterator[Site]:
    if _is_talk(node):
        return
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        function = f"{function}.{node.name}".lstrip(".")
    if isinstance(node, ast.FunctionDef):
        names = _locals(node)
    if isinstance(node, ast.stmt):
        statement = node
    for field, value in ast.iter_fields(node):
        if field in _SKIPPED or (field == "keywords" and isinstance(node, ast.ClassDef)):
            continue
        for index, child in enumerate(value) if isinstance(value, list) else ((None, value),):
            if not isinstance(child, ast.AST):
                continue
            if isinstance(child, ast.expr):
                for kind, new in _changed(child, node, field, names, attrs):
                    yield Site(kind, function, child.lineno, node, field, index, child, new, statement)
            yield from _walk(child, function, statement, names, attrs)


def _is_talk(node: ast.AST) -> bool:
    """Return whether a node does nothing: a docstring, an import, the size of a cache, what only a type checker reads."""
    if isinstance(node, ast.Import | ast.ImportFrom):
        return True
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        return True
    if isinstance(node, ast.keyword) and node.arg == "maxsize":
        return True
    return isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"


def _locals(function: ast.FunctionDef) -> tuple[str, ...]:
    """Return the parameters and the values that a function names, in one order."""
    args = [arg.arg for arg in (*function.args.posonlyargs, *function.args.args) if arg.arg not in ("self", "cls")]
    stored = [node.id for node in ast.walk(function) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)]
    return tuple(dict.fromkeys(args + stored))


def _changed(
    node: ast.expr, parent: ast.AST, field: str, names: tuple[str, ...], attrs: frozenset[str]
) -> Iterator[tuple[str, ast.expr]]:
    """Return the kinds of change and the new expressions for one expression."""
    yield from (("comparison", new) for new in _comparisons(node))
    yield from (("constant", new) for new in _constants(node))
    yield from (("sign", new) for new in _signs(node))
    yield from (("side", new) for new in _sides(node, names, attrs))
    yield from (("opposite", new) for new in _opposites(node))
    yield from (("condition", new) for new in _conditions(node, parent, field))
    yield from (("return", new) for new in _returns(node, parent, names))
    yield from (("argument", new) for new in _arguments(node))


def _comparisons(node: ast.expr) -> Iterator[ast.expr]:
    if isinstance(node, ast.Compare):
        for i, op in enumerate(node.ops):
            yield ast.Compare(node.left, [*node.ops[:i], _TURNED[type(op)](), *node.ops[i + 1 :]], node.comparators)


def _constants(node: ast.expr) -> Iterator[ast.expr]:
    if not isinstance(node, ast.Constant) or type(node.value) not in (int, float):
        return
    value: Any = node.value
    if isinstance(value, int):
        yield ast.Constant(value + 1 if abs(value) < 10 else round(value * 1.1))
    elif value == 0.0:
        yield ast.Constant(1.0)
    elif abs(value) > TOLERANCE:
        yield ast.Constant(float(f"{value * 1.1:.12g}"))


def _signs(node: ast.expr) -> Iterator[ast.expr]:
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        yield node.operand
    if not isinstance(node, ast.BinOp) or type(node.op) not in _SIGN:
        return
    if not any(map(_is_text, (node.left, node.right))) and not _is_tolerance(node.right):
        yield ast.BinOp(node.left, _SIGN[type(node.op)](), node.right)


def _is_tolerance(node: ast.expr) -> bool:
    """Return whether this is what a comparison allows: with the other sign it moves a border by as little."""
    if isinstance(node, ast.Constant):
        return isinstance(node.value, float) and 0.0 < node.value <= TOLERANCE
    return isinstance(node, ast.Name) and node.id in _TOLERANCES


def _is_text(node: ast.expr) -> bool:
    if isinstance(node, ast.BinOp):
        return _is_text(node.left) or _is_text(node.right)
    return isinstance(node, _TEXTS) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _sides(node: ast.expr, names: tuple[str, ...], attrs: frozenset[str]) -> Iterator[ast.expr]:
    if isinstance(node, ast.Attribute) and _SIDES.get(node.attr) in attrs and isinstance(node.ctx, ast.Load):
        yield ast.Attribute(node.value, _SIDES[node.attr], node.ctx)
    if isinstance(node, ast.Name) and _SIDES.get(node.id) in names and isinstance(node.ctx, ast.Load):
        yield ast.Name(_SIDES[node.id], node.ctx)
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        words = node.value.split(" ")
        turned = [_SIDES.get(word, word) if word in _SAID else word for word in words]
        if turned != words:
            yield ast.Constant(" ".join(turned))


def _opposites(node: ast.expr) -> Iterator[ast.expr]:
    if not isinstance(node, ast.Call):
        return
    call = node.func
    if isinstance(call, ast.Name) and call.id in _CALLS:
        yield ast.Call(ast.Name(_CALLS[call.id], ast.Load()), node.args, node.keywords)
    if isinstance(call, ast.Attribute) and call.attr in _CALLS and isinstance(call.value, ast.Name) and call.value.id == "math":
        yield ast.Call(ast.Attribute(call.value, _CALLS[call.attr], ast.Load()), node.args, node.keywords)


def _conditions(node: ast.expr, parent: ast.AST, field: str) -> Iterator[ast.expr]:
    if isinstance(node, ast.BoolOp):
        for i in range(len(node.values)):
            rest = [*node.values[:i], *node.values[i + 1 :]]
            yield rest[0] if len(rest) == 1 else ast.BoolOp(node.op, rest)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        yield node.operand
    if isinstance(node, ast.IfExp):
        yield node.body
        yield node.orelse
    if isinstance(parent, ast.If) and field == "test":
        yield ast.Constant(False)
        yield ast.Constant(True)
    if isinstance(parent, ast.comprehension) and field == "ifs":
        yield ast.Constant(True)


def _returns(node: ast.expr, parent: ast.AST, names: tuple[str, ...]) -> Iterator[ast.expr]:
    if not isinstance(parent, ast.Return):
        return
    if isinstance(node, ast.Name):
        others = [name for name in names if name != node.id]
        if others and node.id in names:
            yield ast.Name(others[-1], ast.Load())
    if isinstance(node, ast.Tuple) and len(node.elts) > 1 and ast.dump(node.elts[0]) != ast.dump(node.elts[1]):
        yield ast.Tuple([node.elts[1], node.elts[0], *node.elts[2:]], ast.Load())
    if isinstance(node, ast.Compare | ast.BoolOp):
        yield ast.UnaryOp(ast.Not(), node)


def _arguments(node: ast.expr) -> Iterator[ast.expr]:
    if not isinstance(node, ast.Call) or _name(node.func) in _EITHER_WAY or any(isinstance(a, ast.Starred) for a in node.args):
        return
    for i in range(len(node.args) - 1):
        first, second = node.args[i : i + 2]
        if ast.dump(first) != ast.dump(second) and _is_text(first) == _is_text(second):
            yield ast.Call(node.func, [*node.args[:i], second, first, *node.args[i + 2 :]], node.keywords)


def _name(call: ast.expr) -> str:
    return call.attr if isinstance(call, ast.Attribute) else call.id if isinstance(call, ast.Name) else ""


def _listed(root: Path, path: Path, function: str | None = None) -> Iterator[tuple[Change, ast.Module, Site]]:
    """Return every change of a module, or of one function in it, with its tree and its place."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    name = path.relative_to(root).as_posix()
    counts: Counter[tuple[str, str, str]] = Counter()
    for site in sites(tree, attributes(root)):
        if function not in (None, site.function):
            continue
        before, after = ast.unparse(site.old), ast.unparse(site.new)
        counts[site.function, before, after] += 1
        number = counts[site.function, before, after]
        yield Change(name, site.function, site.kind, before, after, number, site.line, head(site.statement)), tree, site


def changes(root: Path, path: Path) -> list[Change]:
    """Return every change of a module."""
    return [change for change, _, _ in _listed(root, path)]


def changed_tree(root: Path, change: Change) -> ast.Module:
    """Return the module's tree with the change made; its lines stay where they are."""
    listed = _listed(root, root / change.path, change.function)
    tree, site = next((tree, site) for each, tree, site in listed if each.key == change.key)
    if site.place is None:
        setattr(site.parent, site.field, site.new)
    else:
        getattr(site.parent, site.field)[site.place] = site.new
    return ast.fix_missing_locations(tree)


def in_turn(root: Path, seed: int) -> Iterator[Change]:
    """Return all changes in a seeded order: each module in turn, and inside a module each kind in turn."""
    rows = [_mixed(changes(root, path), f"{seed} {path.relative_to(root).as_posix()}") for path in modules(root)]
    random.Random(seed).shuffle(rows)
    return (change for row in zip_longest(*rows) for change in row if change)


def _mixed(all_changes: list[Change], seed: str) -> list[Change]:
    rng = random.Random(seed)
    kinds: dict[str, list[Change]] = defaultdict(list)
    for change in all_changes:
        kinds[change.kind].append(change)
    rows = list(kinds.values())
    for row in rows:
        rng.shuffle(row)
    rng.shuffle(rows)
    return [change for row in zip_longest(*rows) for change in row if change]
