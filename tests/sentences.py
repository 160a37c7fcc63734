"""What is asked in words of the demo season, whose names are found once."""

from __future__ import annotations

from functools import cache
from typing import Any

import hitlab
from hitlab.asking import Asked, Known


@cache
def known() -> Known:
    """Find the demo season's names."""
    return Known.of(hitlab.demo_season())


def asked(sentence: str, **options: Any) -> Asked:
    """Ask a sentence of the demo season."""
    return hitlab.ask(sentence, known(), **options)
