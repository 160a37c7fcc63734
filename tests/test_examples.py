"""The examples in the docstrings, run as they stand."""

from __future__ import annotations

import doctest
import pkgutil
from importlib import import_module
from pathlib import Path

import pytest

import hitlab

WITH_EXAMPLES = [
    module.name
    for module in pkgutil.walk_packages(hitlab.__path__, "hitlab.")
    if not module.ispkg
    and "\n    >>> "
    in (Path(hitlab.__path__[0]).parent / f"{module.name.replace('.', '/')}.py").read_text("utf-8")
]


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_the_examples_of_a_module_give_what_they_say(name):
    found = doctest.testmod(import_module(name))
    assert found.failed == 0
    assert found.attempted > 0


def test_there_are_examples():
    assert len(WITH_EXAMPLES) >= 8
