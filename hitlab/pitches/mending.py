"""What to write into the mapping so that a cell that could not be used can be."""

from __future__ import annotations

import datetime as dt

from hitlab.pitches.mapping import Mapping, accepted_units, nearest
from hitlab.pitches.schema import Column

__all__ = ["mend"]

_DATE_FORMATS = (
    *("%d/%m/%Y", "%m/%d/%Y", "%d.%m.%Y", "%Y/%m/%d", "%d-%m-%Y", "%m-%d-%Y", "%m.%d.%Y", "%Y%m%d"),
    *("%d/%m/%y", "%m/%d/%y", "%d.%m.%y", "%d %B %Y", "%B %d, %Y", "%d %b %Y", "%b %d, %Y", "%d-%b-%Y"),
)


def mend(column: Column, text: str, reason: str, mapping: Mapping) -> str:
    """Return the line of the mapping that would make a cell readable, in a sentence; empty where none would.

    Parameters
    ----------
    column, text, reason
        Where the cell stands, what is in it, and why it could not be used.
    mapping
        What is said so far.
    """
    text = text.strip()
    if column.kind in ("word", "flag"):
        near = nearest(text, column.words) or "..."
        return f'[words.{column.name}] "{text}" = "{near}" in the mapping says what it means'
    if column.kind == "date":
        return _date(text) if mapping.date_format is None else ""
    comma = "," in text and mapping.decimal == "."
    if reason == "not a number" and comma and _number(text.replace(",", ".")) is not None:
        return '[file] decimal = "," in the mapping reads it'
    value = _number(text)
    if reason == "out of range" and value is not None and column.name not in mapping.units:
        return _unit(column, value)
    return ""


def _date(text: str) -> str:
    formats = [f'"{one}"' for one in _DATE_FORMATS if _is_date(text, one)]
    return f"[file] date_format = {' or '.join(formats)} in the mapping reads it" if formats else ""


def _is_date(text: str, date_format: str) -> bool:
    try:
        dt.datetime.strptime(text, date_format)
    except ValueError:
        return False
    return True


def _number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


def _unit(column: Column, value: float) -> str:
    if column.unit is None:
        return ""
    units = accepted_units(column.name)
    for unit, factor in units.items():
        there = value * factor / units[column.unit]
        low, high = column.lowest, column.highest
        if unit != column.unit and (low is None or there >= low) and (high is None or there <= high):
            return f'[units] {column.name} = "{unit}" in the mapping would make it {there:.1f} {column.unit}'
    return ""
