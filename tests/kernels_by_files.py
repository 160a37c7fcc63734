"""A plugin for nbval: kernels are reached by files, so that nothing else takes their ports."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import nbval.kernel
import pytest

from hitlab.course.kernels import reached_by_files


@pytest.hookimpl(wrapper=True)
def pytest_sessionstart() -> Iterator[None]:
    manager, home = nbval.kernel.KernelManager, tempfile.TemporaryDirectory(prefix="hitlab-")
    _homes.append(home)

    def by_files(**kwargs: Any) -> Any:
        own = Path(tempfile.mkdtemp(dir=home.name))
        return manager(**reached_by_files(own), **kwargs)

    nbval.kernel.KernelManager = by_files
    return (yield)


def pytest_unconfigure() -> None:
    while _homes:
        _homes.pop().cleanup()


_homes: list[tempfile.TemporaryDirectory[str]] = []
