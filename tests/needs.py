"""What a test needs beyond Python packages: skipped with the reason on a user's machine.

With ``HITLAB_REQUIRE_ALL=1`` in the environment nothing is skipped: what is missing fails.
"""

from __future__ import annotations

import importlib
import os
import shutil
from importlib.util import find_spec
from types import ModuleType

import pytest

REQUIRE_ALL = os.environ.get("HITLAB_REQUIRE_ALL") == "1"


def _missing_spark() -> str:
    if find_spec("pyspark") is None:
        return "PySpark is not installed: pip install -e '.[spark]'"
    if shutil.which("java") is None:
        return "there is no Java on this machine"
    return ""


def _missing_chromium() -> str:
    return "" if shutil.which("chromium") else "there is no Chromium on this machine"


def _mark(name: str, missing: str) -> pytest.MarkDecorator | pytest.Mark:
    return pytest.mark.skipif(bool(missing) and not REQUIRE_ALL, reason=missing or f"{name} is there")


needs_java = _mark("Java", _missing_spark())
needs_chromium = _mark("Chromium", _missing_chromium())


def package(name: str) -> ModuleType:
    """Import an optional package; skip where it is missing, or fail where nothing may be."""
    if REQUIRE_ALL:
        return importlib.import_module(name)
    return pytest.importorskip(name, reason=f"{name} is not installed")
