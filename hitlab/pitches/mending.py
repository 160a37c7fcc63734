"""What to write into the mapping so that cells that could not be used can be."""

from __future__ import annotations

import re
from collections.abc import Callable

from hitlab.pitches.cells import Judged
from hitlab.pitches.dates import day_first, has_year, read_day
from hitlab.pitches.mapping import Mapping, accepted_units, nearest
from hitlab.pitches.schema import LEVELS, Column
from hitlab.pitches.suggesting import may_be, near_word
from hitlab.pitches.wordforms import in_toml

__all__ = ["DATE_FORMATS", "Mending", "mending"]

DATE_FORMATS = (
    *("%d/%m/%Y", "%m/%d/%Y", "%d.%m.%Y", "%Y/%m/%d", "%d-%m-%Y", "%m-%d-%Y", "%m.%d.%Y", "%Y%m%d"),
    *("%d/%m/%y", "%m/%d/%y", "%d.%m.%y", "%d %B %Y", "%B %d, %Y", "%d %b %Y", "%b %d, %Y", "%d-%b-%Y"),
    *("%d-%b-%y", "%Y年%m月%d日", "%Y.%m.%d"),
    *(
        f"{day} {time}"
        for day in ("%Y-%m-%d", "%d/%m/%Y", "%m/%d/%Y", "%d.%m.%Y")
        for time in ("%H:%M", "%H:%M:%S", "%I:%M %p", "%I:%M:%S %p")
    ),
    *("%d/%m", "%m/%d", "%d.%m.", "%d.%m", "%d-%m", "%m-%d", "%d %B", "%B %d", "%d %b", "%b %d", "%d-%b"),
)
"""Forms of dates that are tried, those with a year first."""

_NUMBERED_DAYS = range(18_264, 73_416)
"""The days from 1950 to 2100 as spreadsheets number them, which a file saved without their form holds."""

_LEAP = 2000  # so that every day of a date without a year is one
_COMMA = re.compile(r"[+-]?[0-9]+,[0-9]+")
_WORTH_A_WORD = 0.1  # of the filled cells, a default: one slip in a column says nothing of its unit

Mending = Callable[[str, str], str]
"""From a cell and the reason why it could not be used to what would mend it; empty where nothing would."""


def mending(judged: Judged, mapping: Mapping) -> Mending:
    """Look at a whole column for the line of the mapping that would make its bad cells readable.

    A unit, a decimal sign or a form of dates is said only where it suits the column: one slip among good
    cells is a slip.

    Parameters
    ----------
    judged
        The column.
    mapping
        What is said so far.
    """
    column = judged.column
    if column.kind in ("word", "flag"):
        return lambda text, _reason: _word(column, text)
    if column.name == "level":
        return lambda text, _reason: _level(text)
    if column.kind == "text":
        return lambda _text, _reason: ""
    many = judged.cells.times
    filled: dict[str, int] = {}
    for text, times in zip(judged.cells.texts, many, strict=True):
        if text.strip() and times:
            filled[text.strip()] = filled.get(text.strip(), 0) + int(times)
    bad = {
        text.strip()
        for text, problem, times in zip(judged.cells.texts, judged.problems, many, strict=True)
        if problem and times
    }
    if sum(filled[text] for text in bad) < _WORTH_A_WORD * sum(filled.values()):
        return lambda _text, _reason: ""
    if column.kind == "date":
        line = _dates(filled, bad)
        return lambda text, _reason: line if text.strip() in bad else ""
    comma = _comma(column, filled, bad, mapping)
    unit = "" if comma else _unit(column, filled, mapping)
    return lambda _text, reason: {"not a number": comma, "out of range": unit}.get(reason, "")


def _word(column: Column, text: str) -> str:
    word = text.strip()
    both = may_be(word, column.name)
    near = near_word(word, column.name) or "..."
    says = f'[words.{column.name}] {in_toml(word)} = "{near}" in the mapping says what it means'
    return f"{word!r} may be {both}: {says}" if both else says


def _level(text: str) -> str:
    near = nearest(text.strip(), LEVELS) or text.strip()
    quoted, meant = map(in_toml, (text.strip(), near))
    return f"[words.level] {quoted} = {meant} in the mapping says that it is meant"


def _dates(filled: dict[str, int], bad: set[str]) -> str:
    read = {
        one: sum(times for text, times in filled.items() if read_day(text, one, _LEAP)[0])
        for one in DATE_FORMATS
    }
    most = max(read.values())
    if most <= sum(times for text, times in filled.items() if text not in bad):
        if all(text.isdecimal() and int(text) in _NUMBERED_DAYS for text in bad):
            return (
                "these are days as a spreadsheet numbers them: give the column the form of a date there, and "
                "save it anew"
            )
        return ""
    best = [one for one, times in read.items() if times == most]
    best = [one for one in best if has_year(one) == has_year(best[0])]
    both = _both_orders(filled)
    if both and any(day_first(one) is not None for one in best):
        return (
            f"some have the day before the month and some behind it ({both[0]!r} and {both[1]!r}), so that "
            "no one form reads them right: write them as year-month-day in the source"
        )
    formats = " or ".join(f'"{one}"' for one in best)
    year = "" if has_year(best[0]) else " and [dates] year = (the year it was)"
    total = sum(filled.values())
    cells = "all cells" if most == total else f"{most:,} of {total:,} cells"
    line = f"[file] date_format = {formats}{year} in the mapping reads {cells}"
    if any(read_day(text, best[0], _LEAP) != read_day(text, one, _LEAP) for one in best for text in filled):
        line += ", and the cells do not tell which: ask whoever kept them"
    return line


def _both_orders(filled: dict[str, int]) -> tuple[str, str] | None:
    """Find a date that can only have its day before the month, and one that can only have it behind."""
    found: dict[bool, str] = {}
    for text in filled:
        orders = {day_first(one) for one in DATE_FORMATS if read_day(text, one, _LEAP)[0]}
        if len(orders) == 1:
            (order,) = orders
            if order is not None:
                found.setdefault(order, text)
        if len(found) == 2:
            return found[True], found[False]
    return None


def _comma(column: Column, filled: dict[str, int], bad: set[str], mapping: Mapping) -> str:
    with_comma = [text for text in bad if _COMMA.fullmatch(text)]
    if mapping.decimal != "." or column.kind != "number" or not with_comma:
        return ""
    factor = mapping.factor(column.name)
    values = [float(text.replace(",", ".")) * factor for text in with_comma]
    if not all(_within(column, value) for value in values):
        return ""
    return '[file] decimal = "," in the mapping reads it'


def _unit(column: Column, filled: dict[str, int], mapping: Mapping) -> str:
    """Name the unit in which every number of the column would be in range."""
    if column.unit is None or column.name in mapping.units:
        return ""
    values = [value for text in filled if (value := _number(text.replace(mapping.decimal, "."))) is not None]
    units = accepted_units(column.name)
    for unit, factor in units.items():
        there = [value * factor / units[column.unit] for value in values]
        if unit != column.unit and there and all(_within(column, value) for value in there):
            return f'if these are {unit}, [units] {column.name} = "{unit}" in the mapping says so'
    return ""


def _number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


def _within(column: Column, value: float) -> bool:
    low, high = column.lowest, column.highest
    return (low is None or value >= low) and (high is None or value <= high)
