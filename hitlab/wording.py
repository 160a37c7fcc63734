"""Plain words for counts, rates and chances, used wherever hitlab speaks to people."""

from __future__ import annotations

import math
import re
from pathlib import PurePath

__all__ = [
    "chance_text",
    "level_words",
    "listed",
    "percent",
    "rate_or_bounds",
    "rate_text",
    "record_text",
    "signed_text",
    "source_name",
]


def rate_text(value: float) -> str:
    """Return a rate as the trade reads it: ``.187``, ``1.000``; ``none`` where there is no exposure."""
    if math.isnan(value):
        return "none"
    text = f"{value:.3f}"
    return text[1:] if text.startswith("0") else text


def record_text(events: float, exposure: float) -> str:
    """Return a record: ``97 of 422``."""
    return f"{int(events):,} of {int(exposure):,}"


def rate_or_bounds(rate: float, least: float, most: float) -> str:
    """Return a rate as it is said, or where it is missing its two bounds: ``.100 to .300``."""
    if math.isnan(rate) and not math.isnan(least):
        return f"{rate_text(least)} to {rate_text(most)}"
    return rate_text(rate)


def signed_text(value: float) -> str:
    """Return a difference of rates with its sign: ``+.012``."""
    return ("-" if round(value, 3) < 0 else "+") + rate_text(abs(value))


def listed(parts: list[str]) -> str:
    """Return parts as an English list: ``a, b and c``."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}" if parts else ""


def level_words(level: float) -> str:
    """Return the level of an interval: ``90 %``, ``99.5 %``."""
    return f"{100 * level:g} %"


def percent(share: float) -> str:
    """Return a share in whole per cent; all and none are said only of exactly that."""
    return f"{100 * share:.0f} %" if share in (0, 1) else chance_text(share)


def chance_text(chance: float) -> str:
    """Return a chance in whole per cent, never as certainty: at 0 and 1 only the digits have run out."""
    if math.isnan(chance):
        return "unknown"
    if chance > 0.99:
        return "more than 99 %"
    if chance < 0.01:
        return "less than 1 %"
    return f"{100 * chance:.0f} %"


def source_name(source: str) -> str:
    """Return a source as it is shown: a file without its folders, which are nobody else's business."""
    name = PurePath(source.replace("\\", "/")).name
    return name if re.fullmatch(r"[^\s/][^/]*\.\w{1,8}", name) else source
