"""Days as people write them: ``2031-05-15``, ``May 15``, ``15 May 2031``, ``May``."""

from __future__ import annotations

import calendar
import re
from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any

import narwhals as nw

from hitlab.errors import ClaimError, ReadingError

__all__ = ["day_in", "day_of", "day_words", "days_words", "demand_days", "said_day"]

_MONTHS = {name.casefold(): number for number, name in enumerate(calendar.month_name) if name}
_MONTHS |= {name.casefold(): number for number, name in enumerate(calendar.month_abbr) if name}
_MONTHS["sept"] = 9


def day_of(text: str) -> datetime:
    """Read a day written as year-month-day.

    Raises
    ------
    ClaimError
        Where it is none.

    Examples
    --------
    >>> day_of("2031-05-15").day
    15
    """
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        raise ClaimError(f"{text!r} is not a day; write it as year-month-day, such as 2031-05-01") from error


def day_in(text: str, years: Sequence[int], *, last: bool = False) -> datetime:
    """Read a day, also one without its year where a table of one year tells it.

    Parameters
    ----------
    text
        ``2031-05-15``, ``May 15``, ``15 May``, ``May 15, 2031``, or a month: ``May`` is its first day.
    years
        The years in which the table has games.
    last
        A month is its last day: "until May" includes May.

    Raises
    ------
    ClaimError
        Where it is no day, or it has no year and the table has games of more than one.

    Examples
    --------
    >>> f"{day_in('May 15', [2031]):%Y-%m-%d}"
    '2031-05-15'
    >>> f"{day_in('May', [2031], last=True):%Y-%m-%d}"
    '2031-05-31'
    """
    try:
        return datetime.fromisoformat(text.strip())
    except ValueError:
        pass
    words = [word for word in re.split(r"[\s,.]+", text.casefold()) if word and word not in ("the", "of")]
    month = next((_MONTHS[word] for word in words if word in _MONTHS), None)
    rest = [re.sub(r"(?<=\d)(st|nd|rd|th)$", "", word) for word in words if word not in _MONTHS]
    if month is None or len(words) - len(rest) != 1 or not all(word.isdigit() for word in rest):
        raise ClaimError(f"{text!r} is not a day; write 2031-05-15, May 15, or a month such as May")
    told = [int(word) for word in rest if len(word) == 4]
    days = [int(word) for word in rest if len(word) < 3]
    if len(told) > 1 or len(days) > 1 or len(told) + len(days) != len(rest):
        raise ClaimError(f"{text!r} is not a day; write 2031-05-15, May 15, or a month such as May")
    if not told and len(set(years)) != 1:
        seen = ", ".join(str(year) for year in sorted(set(years))) or "no year"
        raise ClaimError(f"{text!r} has no year, and the table has games of {seen}; write it as 2031-05-15")
    year = told[0] if told else next(iter(set(years)))
    length = calendar.monthrange(year, month)[1]
    day = days[0] if days else length if last else 1
    if not 1 <= day <= length:
        raise ClaimError(f"{text!r}: {calendar.month_name[month]} of {year} has {length} days")
    return datetime(year, month, day)


def day_words(day: datetime) -> str:
    """Return a day as it is written in a sentence: ``May 15, 2031``."""
    return f"{calendar.month_name[day.month]} {day.day}, {day.year}"


def said_day(text: str, said: Callable[[datetime], str] = day_words) -> str:
    """Say a day that is written as year-month-day; any other text stays as it is."""
    try:
        return said(datetime.fromisoformat(text))
    except ValueError:
        return text


def days_words(first: datetime, last: datetime) -> str:
    """Return a span of days as it is written in a sentence, what the two have in common once.

    Examples
    --------
    >>> days_words(datetime(2031, 4, 3), datetime(2031, 6, 23))
    'April 3 to June 23, 2031'
    >>> days_words(datetime(2031, 4, 3), datetime(2031, 4, 9))
    'April 3 to 9, 2031'
    """
    if first.date() == last.date():
        return day_words(first)
    if first.year != last.year:
        return f"{day_words(first)} to {day_words(last)}"
    month = "" if first.month == last.month else f"{calendar.month_name[last.month]} "
    return f"{calendar.month_name[first.month]} {first.day} to {month}{last.day}, {last.year}"


def demand_days(frame: Any) -> None:
    """Refuse a table that nobody has read, whose days are text: ``04/05/2031`` may be two of them.

    Parameters
    ----------
    frame
        A narwhals frame that has a column ``date``.

    Raises
    ------
    ReadingError
        Where days are asked for and the column holds none.
    """
    kind = frame.collect_schema()["date"]
    if not isinstance(kind, nw.Date | nw.Datetime):
        what = "text" if kind == nw.String else kind
        raise ReadingError(
            f"days are asked for, and the column date holds {what}, no days: this table was not read yet. "
            "Read it first, hitlab.read_pitches(table), and ask that"
        )
