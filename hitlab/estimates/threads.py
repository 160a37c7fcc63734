"""Small linear algebra on one thread."""

from __future__ import annotations

from contextlib import AbstractContextManager
from functools import cache
from typing import Any

__all__ = ["one_thread"]


def one_thread() -> AbstractContextManager[Any]:
    """Keep NumPy's linear algebra to one thread: where systems are small, threads wait for each other."""
    limited: AbstractContextManager[Any] = _libraries().limit(limits=1, user_api="blas")
    return limited


@cache
def _libraries() -> Any:
    """Return what is loaded; looking for it takes longer than many a small system."""
    import numpy as np  # noqa: F401 - its library has to be there to be found
    from threadpoolctl import ThreadpoolController

    return ThreadpoolController()
