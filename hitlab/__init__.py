"""hitlab: from a table of pitches to a claim about a hitter that is safe to say.

The public functions are loaded at first use, so that ``import hitlab`` costs next to nothing.

>>> import hitlab
>>> counts = hitlab.tally(hitlab.demo_season())
>>> print(hitlab.rate(counts, "hard", per="swings"))  # doctest: +SKIP
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from hitlab.pitches.reading import Reading, read_pitches
    from hitlab.pitches.storing import open_checked, write_checked

__version__ = "0.1.0"

# public name -> module that holds it. No module shares a public function's name: with lazy
# loading the second call would find the module instead.
_HOME = {
    "Reading": "hitlab.pitches.reading",
    "read_pitches": "hitlab.pitches.reading",
    "open_checked": "hitlab.pitches.storing",
    "write_checked": "hitlab.pitches.storing",
}

__all__ = [
    "Reading",
    "open_checked",
    "read_pitches",
    "write_checked",
]


def __getattr__(name: str) -> Any:
    """Load a public name at first use and keep it."""
    try:
        module = _HOME[name]
    except KeyError:
        raise AttributeError(f"module 'hitlab' has no attribute {name!r}") from None
    value = getattr(import_module(module), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
