"""hitlab: from a table of pitches to a claim about a hitter that is safe to say.

What is asked for every day stands here; the rest one level down, where its subject is: ``hitlab.pitches``
(reading), ``counting``, ``estimates``, ``splits``, ``over_time``, ``approach``, ``two_rates``, ``game``,
``claims``, ``evidence``, ``plots``, ``physics``, ``league`` (invented seasons) and ``datasets`` (open data).
Everything is loaded at first use, so that ``import hitlab`` costs next to nothing; the names stand in
``__init__.pyi`` beside each ``__init__.py``.

>>> import hitlab
>>> counts = hitlab.tally(hitlab.demo_season())
>>> claim = hitlab.check_leads(counts)
>>> claim.verdict in ("holds", "does not hold", "open")
True
"""

import lazy_loader

# First of all, so that nothing that counts is loaded before it.
from hitlab import as_loaded as _as_loaded  # noqa: F401

__version__ = "0.1.0"

_loaded, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)

_OTHER_WAY = {
    "check_below": 'check_above(..., direction="less")',
    "check_fewer": 'check_more(..., direction="less")',
    "check_different": 'check_more(..., direction="either")',
}
"""Commands that are the other way of a function: who knows the command looks for a function of its name."""


def __getattr__(name: str) -> object:
    if name in _OTHER_WAY:
        raise AttributeError(f"hitlab has no {name}: write hitlab.{_OTHER_WAY[name]}")
    return _loaded(name)
