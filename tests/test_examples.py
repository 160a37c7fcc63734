"""Every public function explains itself, and the examples in the docstrings are run as they stand."""

from __future__ import annotations

import ast
import doctest
import inspect
import pkgutil
import re
import textwrap
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

import hitlab

ROOT = Path(hitlab.__path__[0]).parent


def _text(module: pkgutil.ModuleInfo) -> str:
    path = ROOT / module.name.replace(".", "/")
    return (path / "__init__.py" if module.ispkg else path.with_suffix(".py")).read_text("utf-8")


WITH_EXAMPLES = ["hitlab"] + [
    module.name
    for module in pkgutil.walk_packages(hitlab.__path__, "hitlab.")
    if re.search(r"^ *>>> ", _text(module), re.M)
]


# A season is played, the truth of a league worked out or a scatter fitted first, which takes seconds each.
SLOW = ("hitlab.league.counts", "hitlab.league.demo", "hitlab.league.seasons", "hitlab.physics.scatter_fit")


@pytest.mark.parametrize(
    "name",
    [pytest.param(name, marks=pytest.mark.slow) if name in SLOW else name for name in WITH_EXAMPLES],
)
def test_the_examples_of_a_module_give_what_they_say(name):
    found = doctest.testmod(import_module(name))
    assert found.failed == 0
    assert found.attempted > 0


def _public(kind: Callable[[Any], bool]) -> Iterator[tuple[str, Any]]:
    """Whatever of a kind stands in an ``__init__.pyi``, by the module that it is written in."""
    packages = [path.parent.relative_to(ROOT) for path in sorted(ROOT.glob("hitlab/**/__init__.pyi"))]
    found = {}
    for package in packages:
        module = import_module(".".join(package.parts))
        for name in module.__all__:
            if kind(thing := getattr(module, name)):
                found[f"{thing.__module__}.{thing.__qualname__}"] = thing
    yield from sorted(found.items())


FUNCTIONS = dict(_public(inspect.isfunction))
CLASSES = dict(_public(inspect.isclass))
# The classes of the physics have an example each; of the others only what they are and their fields is held.
SHOWN = [name for name in CLASSES if name.startswith("hitlab.physics.")]


def _sections(text: str) -> dict[str, str]:
    """The parts of a docstring that have a heading."""
    parts = re.split(r"^([A-Z][a-z]+)\n-{4,}\n", inspect.cleandoc(text), flags=re.M)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def _explained(section: str) -> set[str]:
    """The names that a section explains: ``event, per`` stand on one line, ``**asked`` with its stars."""
    heads = re.findall(r"^(?![ \n])([^:\n]+)", section, re.M)
    return {name.strip(" *") for head in heads for name in head.split(",")}


def _raises(function: Callable[..., Any]) -> bool:
    """Whether an error is raised in the function's own lines."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(function)))
    return any(isinstance(node, ast.Raise) for node in ast.walk(tree))


def lacking(function: Callable[..., Any]) -> list[str]:
    """What a function's docstring does not say."""
    text = function.__doc__ or ""
    sections = _sections(text)
    parameters = set(inspect.signature(function).parameters)
    lacks = [f"parameter {name}" for name in sorted(parameters - _explained(sections.get("Parameters", "")))]
    lacks += [
        f"{name}, which is no parameter"
        for name in sorted(_explained(sections.get("Parameters", "")) - parameters)
    ]
    if not {"Returns", "Yields"} & set(sections):
        lacks.append("Returns")
    if _raises(function) and "Raises" not in sections:
        lacks.append("Raises")
    if ">>> " not in sections.get("Examples", ""):
        lacks.append("an example")
    elif function.__name__ not in sections["Examples"]:
        lacks.append("an example that calls it")
    return lacks


@pytest.mark.parametrize("name", FUNCTIONS)
def test_a_public_function_explains_itself(name):
    assert not lacking(FUNCTIONS[name]), f"{name}: its docstring lacks {'; '.join(lacking(FUNCTIONS[name]))}"


@pytest.mark.parametrize("name", CLASSES)
def test_a_public_class_says_what_it_is(name):
    """And what each of its fields is, where it has any."""
    kind = CLASSES[name]
    sections = _sections(kind.__doc__ or "")
    fields = {
        field
        for field in getattr(kind, "__dataclass_fields__", {})
        if not field.startswith("_") and field.islower()
    }
    explained = _explained(sections.get("Attributes", "")) | _explained(sections.get("Parameters", ""))
    assert (kind.__doc__ or "").strip(), f"{name} has no docstring"
    assert fields <= explained, (
        f"{name}: its docstring does not explain {', '.join(sorted(fields - explained))}"
    )


def unshown(kind: type) -> list[str]:
    """What the example of a class does not show: how one comes by such an object, and something read of it.

    Of an error or a warning it is enough that it is named, where it is caught.
    """
    examples = doctest.DocTestParser().get_examples(_sections(kind.__doc__ or "").get("Examples", ""))
    if not examples:
        return ["an example"]
    nodes = list(ast.walk(ast.parse("".join(example.source for example in examples))))
    named = {node.id for node in nodes if isinstance(node, ast.Name)}
    read = {node.attr for node in nodes if isinstance(node, ast.Attribute)}
    givers = {
        function.__name__
        for function in FUNCTIONS.values()
        if function.__annotations__.get("return") == kind.__name__
    }
    lacks = []
    if not named & {kind.__name__, *givers}:
        lacks.append("how one comes by it")
    if not issubclass(kind, BaseException) and not read & {name for name in dir(kind) if name[0] != "_"}:
        lacks.append("something read of it")
    return lacks


@pytest.mark.parametrize("name", SHOWN)
def test_a_public_class_of_the_physics_is_shown(name):
    assert not unshown(CLASSES[name]), f"{name}: its docstring lacks {', '.join(unshown(CLASSES[name]))}"


def test_what_the_example_of_a_class_lacks_is_named():
    class Bare:
        """Without an example."""

    class Elsewhere:
        """With one of something else.

        Examples
        --------
        >>> "Elsewhere".upper()
        'ELSEWHERE'
        """

        field: int = 0

    assert unshown(Bare) == ["an example"]
    assert unshown(Elsewhere) == ["how one comes by it", "something read of it"]


def test_what_a_docstring_lacks_is_named():
    def bare(event, **asked):
        raise ValueError

    assert lacking(bare) == ["parameter asked", "parameter event", "Returns", "Raises", "an example"]


def test_there_are_examples():
    assert len(FUNCTIONS) >= 120
    assert len(WITH_EXAMPLES) >= 60
    assert len(SHOWN) >= 29
