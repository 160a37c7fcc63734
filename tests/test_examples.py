"""The examples in the docstrings, run as they stand."""

from __future__ import annotations

import doctest
import pkgutil
import re
from importlib import import_module
from pathlib import Path

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


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_the_examples_of_a_module_give_what_they_say(name):
    found = doctest.testmod(import_module(name))
    assert found.failed == 0
    assert found.attempted > 0


def test_there_are_examples():
    assert len(WITH_EXAMPLES) >= 8
