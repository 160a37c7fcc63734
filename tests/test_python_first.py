"""No core exercise asks for a piece of Python that the course has not taught before.

What is a sign or a word of the language is taught by prose tagged ``python`` and a worked example behind it;
what is called is told by a comment or in backticks, or stands in a worked example. A number that is asked for
(kinds compute and transfer) may also be worked out by what any earlier cell calls.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise

import pytest

from tests.needs import package

package("jupytext")

from hitlab.course.sources import (  # noqa: E402
    Cell,
    Source,
    checked_in,
    heading_of,
    read_source,
    source_paths,
)

BY_HAND = ("compute", "transfer")
BY_CODE = ("write", "complete", *BY_HAND)
TOLD = {
    "+": "`+`, `-`, `*` and `/` reckon",
    "-": "`+`, `-`, `*` and `/` reckon",
    "*": "`+`, `-`, `*` and `/` reckon",
    "/": "`+`, `-`, `*` and `/` reckon",
    "**": "`**` raises to a power",
    "def": "`def` gives the name",
    "return": "`return` says what comes out",
    "a, b": "What a comma joins",
    "[a, b]": "Square brackets make a list",
    '["name"]': 'its column of that name',
    "a <= b": "Comparing a column",
    "&": "`&` joins two",
    "~": "`~` turns each round",
    "[picked]": "picks rows",
    "for": "`for _ in range(1_000):`",
    "+=": "`+=` adds",
    "[0]": "the first one (counted from 0)",
    "[a:b]": "`five[:3]`",
    "[a, b] of a table": "`errors[:, 1]`",
    "[...] =": "`errors[:, 1] = 0`",
    "@": "`counts @ worth`",
    "low, high =": "two names on the left",
}  # fmt: skip
"""A piece of Python -> some words of the prose that teaches it."""

_SIGNS = {
    ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "**", ast.MatMult: "@",
    ast.BitAnd: "&", ast.BitOr: "|", ast.NotEq: "!=", ast.Eq: "a <= b", ast.LtE: "a <= b", ast.GtE: "a <= b",
    ast.Lt: "a <= b", ast.Gt: "a <= b", ast.Invert: "~", ast.USub: "-x",
}  # fmt: skip
_PLAIN = (
    ast.Module, ast.Expr, ast.Name, ast.Load, ast.Store, ast.Constant, ast.Call, ast.keyword, ast.Assign,
    ast.Attribute, ast.arguments, ast.arg, ast.operator, ast.unaryop, ast.cmpop,
)  # fmt: skip
_TICKS = re.compile(r"`[^`]+`")
_WORD = re.compile(r"[A-Za-z_]\w*")


def pieces(code: str) -> set[str]:
    """Return the pieces of the language that code is made of; by its class what has no sign here."""
    found = set()
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.FunctionDef | ast.Return | ast.For | ast.While):
            found.add({"FunctionDef": "def"}.get(type(node).__name__, type(node).__name__.lower()))
        elif isinstance(node, ast.AugAssign):
            found.add(f"{_SIGNS[type(node.op)]}=")
        elif isinstance(node, ast.Subscript):
            found.add(_brackets(node))
            if isinstance(node.ctx, ast.Store):
                found.add("[...] =")
        elif isinstance(node, ast.Tuple | ast.List):
            found.add("low, high =" if isinstance(node.ctx, ast.Store) else _joined(node))
        elif isinstance(node, ast.BinOp | ast.UnaryOp):
            found.add(_SIGNS.get(type(node.op), type(node.op).__name__))
        elif isinstance(node, ast.Compare):
            found |= {_SIGNS.get(type(op), type(op).__name__) for op in node.ops}
        elif not isinstance(node, (*_PLAIN, ast.Slice)):
            found.add(type(node).__name__)
    return found


def _joined(node: ast.Tuple | ast.List) -> str:
    return "a, b" if isinstance(node, ast.Tuple) else "[a, b]"


def _brackets(node: ast.Subscript) -> str:
    inside = node.slice
    if isinstance(inside, ast.Slice):
        return "[a:b]"
    if isinstance(inside, ast.Tuple):
        return "[a, b] of a table"
    if isinstance(inside, ast.List):
        return '[["name"]]'
    if isinstance(inside, ast.Constant):
        return '["name"]' if isinstance(inside.value, str) else "[0]"
    return "[picked]"


def called(code: str) -> set[str]:
    """Return the names that code calls or takes from something, and by which it gives arguments."""
    tree = ast.parse(code)
    own = {node.arg for node in ast.walk(tree) if isinstance(node, ast.arg)}
    own |= {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute):
            found.add(node.attr)
        elif isinstance(node, ast.Call):
            found |= {word.arg for word in node.keywords if word.arg}
            if isinstance(node.func, ast.Name):
                found.add(node.func.id)
    return found - own - {"check"}


def named(cell: Cell) -> set[str]:
    """Return the names that a cell tells: in backticks, or in a comment."""
    if cell.kind == "markdown":
        return set(_WORD.findall(" ".join(_TICKS.findall(cell.text))))
    return set(_WORD.findall(" ".join(re.findall(r"#.*", cell.text))))


@cache
def sources() -> tuple[Source, ...]:
    return tuple(read_source(path) for path in source_paths())


def untaught(all_sources: tuple[Source, ...]) -> Iterator[str]:
    """Give each core exercise whose answer needs a piece of Python that stands in no cell before it."""
    taught: set[str] = set()
    names: set[str] = set()
    shown: set[str] = set()
    for source in all_sources:
        words, head, stub = "", None, ""
        for cell in source.cells:
            if cell.tags & {"plan", "slide", "asserted"}:
                continue
            if "exercise" in cell.tags:
                head = heading_of(cell.text)
            if cell.kind == "markdown":
                words = cell.text if "python" in cell.tags else words
            elif "python" in cell.tags:
                there = pieces(cell.text)
                taught |= {one for one in there if TOLD.get(one, "?") in " ".join(words.split())}
                names |= called(cell.text)
            if "solution" not in cell.tags:
                names |= named(cell)
                shown |= called(cell.text) if cell.kind == "code" else set()
                stub = cell.text if "answer" in cell.tags else stub
            elif head and head.core and head.kind in BY_CODE and checked_in(cell.text):
                known = names | (shown if head.kind in BY_HAND else called(stub))
                lacking = [
                    *sorted(pieces(cell.text) - pieces(stub) - taught),
                    *sorted(called(cell.text) - known),
                ]
                if lacking:
                    yield f"{checked_in(cell.text)[0]}: {', '.join(lacking)}"


def test_no_core_exercise_needs_python_that_was_not_taught_before():
    found = list(untaught(sources()))
    assert not found, "\n".join(found)


def leaned_on(all_sources: tuple[Source, ...]) -> dict[str, set[int]]:
    """Return by lesson the earlier ones that teach what the answers to its exercises are written in."""
    taught: dict[str, int] = {}
    found: dict[str, set[int]] = {}
    for place, source in enumerate(all_sources):
        for prose, code in told(source):
            for one in pieces(code):
                if TOLD.get(one, "?") in prose:
                    taught.setdefault(one, place)
        found[source.path.stem] = set()
        head, stub = None, ""
        for cell in source.cells:
            if "exercise" in cell.tags:
                head = heading_of(cell.text)
            elif "answer" in cell.tags:
                stub = cell.text
            elif "solution" in cell.tags and head and head.kind in BY_CODE and checked_in(cell.text):
                needed = {taught.get(one, place) for one in pieces(cell.text) - pieces(stub)}
                found[source.path.stem] |= needed - {place}
    return found


_LEANS = re.compile(r"the Python of lessons? ([\d, and]+) \(")


def said_to_lean_on(source: Source) -> set[int]:
    """Return the lessons whose Python a lesson says, under "What you need", that it needs."""
    (need,) = (cell.text for cell in source.cells if cell.text.startswith("## What you need"))
    return {int(one) for part in _LEANS.findall(" ".join(need.split())) for one in re.findall(r"\d+", part)}


def test_each_lesson_says_whose_python_it_needs():
    leans = leaned_on(sources())
    assert {s.path.stem: said_to_lean_on(s) for s in sources()} == leans
    assert any(leans.values())


def told(source: Source) -> Iterator[tuple[str, str]]:
    """Give each prose that teaches Python, on one line, with the code behind it."""
    for cell, after in pairwise(source.cells):
        if cell.kind == "markdown" and "python" in cell.tags:
            assert after.kind == "code", cell.id
            assert "python" in after.tags, cell.id
            yield " ".join(cell.text.split()), after.text


@pytest.mark.parametrize("piece", TOLD)
def test_each_piece_is_told_once_with_a_worked_example(piece):
    found = [code for source in sources() for prose, code in told(source) if TOLD[piece] in prose]
    assert len(found) == 1
    assert piece in pieces(found[0])


def test_code_that_teaches_stands_behind_its_prose():
    examples = [c for s in sources() for c in s.cells if c.kind == "code" and "python" in c.tags]
    assert len(examples) == sum(len(list(told(source))) for source in sources())


@pytest.mark.parametrize(
    ("code", "lacking"),
    [
        ("answer = [x for x in three]", "ListComp, comprehension"),
        ("answer = three.cumprod()", "cumprod"),
        ("answer = three if three else 0", "IfExp"),
        ("answer = 7 % 2", "Mod"),
        ("answer = np.array([1, 2])[::-1]", "-x, [a:b]"),
    ],
)
def test_what_no_cell_teaches_is_found(code, lacking):
    first = sources()[0]
    ask = Cell("markdown", "### Planted (write, core, 3 min)", frozenset({"exercise"}), "Look", "planted-01")
    stub = Cell(
        "code", 'answer = ...\ncheck("00.luck-alone", answer)', frozenset({"answer"}), "Look", "planted-02"
    )
    way = Cell(
        "code", f'{code}\ncheck("00.luck-alone", answer)', frozenset({"solution"}), "Look", "planted-03"
    )
    planted = Source(first.path, (*first.cells, ask, stub, way))
    assert list(untaught((planted,))) == [f"00.luck-alone: {lacking}"]


def test_without_its_prose_or_its_example_a_piece_is_not_taught():
    for kind in ("markdown", "code"):
        bare = tuple(
            Source(s.path, tuple(c for c in s.cells if not ("python" in c.tags and c.kind == kind)))
            for s in sources()
        )
        assert any(one.startswith("03.shuffle-it: +=") for one in untaught(bare))
