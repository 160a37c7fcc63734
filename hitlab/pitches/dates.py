"""Days as a source writes them, none of them guessed.

A form of dates that leaves out the year or the day would be filled by the calendar of the computer (1900,
the first of the month) without a word, so neither is accepted.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping, Sequence

from hitlab.errors import ReadingError
from hitlab.pitches.schema import FIRST_YEAR, LAST_YEAR

__all__ = [
    "EARLIEST",
    "OUT_OF_YEARS",
    "day_first",
    "demand_year",
    "exchanged",
    "has_day",
    "has_year",
    "is_readable",
    "may_be_year_first",
    "odd_years",
    "read_day",
    "refuse_far_years",
    "refuse_year",
]

EARLIEST = 1950
"""Years before it are what programs make of dates without one (1900), or of two digits (a default)."""

OUT_OF_YEARS = f"before {FIRST_YEAR} or after {LAST_YEAR}"
"""Why a day that is a date is not accepted."""

# The day, and after it a time of day at most.
_ISO = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}([ T][0-9:.]+(Z|[+-][0-9:]+)?)?")
_DIRECTIVE = re.compile(r"%(.)")
# Directives of a form of dates by what they tell; the whole dates %c and %x tell all.
_WHOLE = set("cxDF")
_YEARS = set("YyG") | _WHOLE
_MONTHS = set("mbB")
_WEEKS = set("UWV")
_WEEKDAYS = set("aAwu")


def _directives(date_format: str) -> set[str]:
    return set(_DIRECTIVE.findall(date_format.replace("%%", "")))


def has_year(date_format: str) -> bool:
    """Say whether a form of dates, as ``strptime`` takes it, tells the year."""
    return bool(_directives(date_format) & _YEARS)


def has_day(date_format: str) -> bool:
    """Say whether a form of dates, as ``strptime`` takes it, tells the day of the year."""
    told = _directives(date_format)
    if told & {"j", *_WHOLE}:
        return True
    return bool(("d" in told and told & _MONTHS) or (told & _WEEKS and told & _WEEKDAYS))


def refuse_year(year: object, date_format: str | None, where: str, *, typed: bool) -> None:
    """Refuse a year that is none, or that has no use.

    Parameters
    ----------
    year
        What was said.
    date_format
        The form of dates, where it is said.
    where
        What said the year.
    typed
        Whether the days of a workbook may be meant, into which its program put a year.

    Raises
    ------
    ReadingError
        With what would give it a use.
    """
    if not isinstance(year, int) or isinstance(year, bool) or not FIRST_YEAR <= year <= LAST_YEAR:
        raise ReadingError(f"{where}: {year!r} is not a whole number from {FIRST_YEAR} to {LAST_YEAR}.")
    if date_format is not None and has_year(date_format):
        raise ReadingError(
            f'{where}: {year} has no use, for [file] date_format = "{date_format}" has a year. Keep one.'
        )
    if date_format is None and not typed:
        raise ReadingError(
            f"{where}: {year} has no use, for dates are read as year-month-day. Say how they are written, "
            'such as [file] date_format = "%d/%m", or leave the year out.'
        )


def day_first(date_format: str) -> bool | None:
    """Say whether the day stands before the month in a form of dates; None where both are no numbers."""
    plain = date_format.replace("%%", "")
    day, month = plain.find("%d"), plain.find("%m")
    return None if day < 0 or month < 0 or plain.find("%Y") == 0 else day < month


def may_be_year_first(date_format: str | None) -> bool:
    """Say whether a form of dates may mean year-month-day, as 2031-05-04, otherwise than it is read.

    Beside days in any other form one such is no other day: of two who chart each writes as he is used to.
    """
    return date_format is None or bool(_DIRECTIVE.match(date_format) and date_format[1] in "YGFcx")


def exchanged(texts: Iterable[str], date_format: str | None, year: int | None) -> tuple[int, str]:
    """Count dates that can be read only with day and month exchanged.

    Parameters
    ----------
    texts
        The cells, each as often as it stands.
    date_format, year
        As for :func:`read_day`.

    Returns
    -------
    tuple
        How many, and the first of them.
    """
    if date_format is None or day_first(date_format) is None:
        return 0, ""
    other = date_format.replace("%d", "%\0").replace("%m", "%d").replace("%\0", "%m")
    wrong: dict[str, bool] = {}
    many, first = 0, ""
    for text in texts:
        if text not in wrong:
            read, reversed_ = read_day(text, date_format, year)[0], read_day(text, other, year)[0]
            wrong[text] = read is None and reversed_ is not None
        many += wrong[text]
        first = first or (text if wrong[text] else "")
    return many, first


def is_readable(date_format: str) -> bool:
    """Say whether a day written in a form of dates can be read back by it, as ``strptime`` takes it."""
    day, more = dt.date(2031, 5, 24), "" if has_year(date_format) else "%Y "
    try:
        dt.datetime.strptime(day.strftime(more + date_format), more + date_format)
    except (ValueError, OverflowError, re.error):
        return False
    return True


def read_day(
    text: str, date_format: str | None, year: int | None = None, typed: bool = False
) -> tuple[dt.date | None, str]:
    """Turn a cell into a day.

    Parameters
    ----------
    text
        The cell, trimmed.
    date_format
        As ``strptime`` takes it; None: year-month-day, with a time of day behind it or not.
    year
        The year of every day, where ``date_format`` tells none.
    typed
        Whether a day may also stand as year-month-day, as the days of a workbook do, and those of somebody
        who writes them so beside others. A program puts the
        current year into a day that was typed without one: where ``year`` is said, another is a slip.

    Returns
    -------
    tuple
        The day and ``""``, or None and the reason.
    """
    if typed and _ISO.fullmatch(text):
        day, reason = read_day(text, None)
        if day is not None and year is not None and day.year != year:
            return None, f"a date of another year than the mapping says ({year})"
        return day, reason
    try:
        if date_format is None:
            if not _ISO.fullmatch(text):
                return None, "not a date"
            day = dt.date.fromisoformat(text[:10])
        elif has_year(date_format):
            day = dt.datetime.strptime(text, date_format).date()
        elif year is None:
            return None, "a date without a year"
        else:  # read with its year: without one there would be no 29 February
            day = dt.datetime.strptime(f"{year} {text}", f"%Y {date_format}").date()
    except (ValueError, OverflowError):
        return None, "not a date"
    return (day, "") if FIRST_YEAR <= day.year <= LAST_YEAR else (None, OUT_OF_YEARS)


def demand_year(
    texts: Sequence[str],
    date_format: str | None,
    year: int | None,
    column: str,
    source: str,
    mapping: str,
    typed: bool = False,
) -> None:
    """Refuse dates that have no year where the mapping does not say it.

    Parameters
    ----------
    texts
        The cells.
    date_format, year
        What the mapping says; with ``typed`` days may stand as year-month-day.
    column, source, mapping
        What the column, the file and the mapping are called in the message.

    Raises
    ------
    ReadingError
        Where there are dates, and neither they nor the mapping tell the year.
    """
    filled = [text.strip() for text in texts if text.strip()]
    if typed:
        filled = [text for text in filled if not _ISO.fullmatch(text)]
    if date_format is None or has_year(date_format) or year is not None or not filled:
        return
    raise ReadingError(
        f"{source}: the dates in {column!r} have no year, such as {filled[0]!r} ([file] date_format = "
        f'"{date_format}" in {mapping}). Write in the mapping which year it was, such as: [dates] year = 2031'
    )


def refuse_far_years(
    days: Sequence[dt.date | None],
    times: Sequence[int],
    texts: Sequence[str],
    date_format: str | None,
    typed: bool,
    column: str,
    source: str,
) -> None:
    """Refuse a reading of a column of dates that puts most of them where no charted game is.

    A year written out in a text was meant by somebody, and is only said to be odd. What a form of dates or a
    spreadsheet program put in was not.

    Parameters
    ----------
    days, times, texts
        Day of each distinct cell (None where it is none), in how many rows it stands, and the cell.
    date_format
        How the mapping says they are written.
    typed
        Whether they are days of a workbook.
    column, source
        What the column and the source are called in the message.

    Raises
    ------
    ReadingError
        Where more than half lie before :data:`EARLIEST`; or, by a form with two digits for the year, after
        the next year.
    """
    if date_format is None and not typed:
        return
    next_year = dt.date.today().year + 1
    two_digits = date_format is not None and "%y" in date_format
    read = [(day, many, text) for day, many, text in zip(days, times, texts, strict=True) if day and many]
    total = sum(many for _, many, _ in read)
    for far, what in (
        ([one for one in read if one[0].year < EARLIEST], f"before {EARLIEST}"),
        ([one for one in read if two_digits and one[0].year > next_year], f"after {next_year}"),
    ):
        if far and 2 * sum(many for _, many, _ in far) > total:
            day, _, text = far[0]
            raise ReadingError(
                f"{source}: most dates in {column!r} come out {what}, such as {text!r} as {day:%Y-%m-%d}: "
                "they are written in another way than they are read, or the program that kept them put in a "
                'year. Say in the mapping how they are written, such as [file] date_format = "%m/%d" and '
                "[dates] year = 2031; days that a spreadsheet program took for others have to be written "
                "anew in it."
            )


def odd_years(days: Mapping[str, int]) -> tuple[str, ...]:
    """Say which days are long ago, or have not come yet.

    Parameters
    ----------
    days
        Day, as 2031-05-04 -> rows.
    """
    said = []
    dates = {dt.date.fromisoformat(day): rows for day, rows in days.items()}
    early = [day for day in dates if day.year < EARLIEST]
    late = [day for day in dates if day > dt.date.today()]
    for some, what, pick in (
        (early, f"before {EARLIEST}, the first", min),
        (late, "in the future, the last", max),
    ):
        if some:
            many = sum(dates[day] for day in some)
            said.append(
                f"{many:,} date{' lies' if many == 1 else 's lie'} {what} {pick(some):%Y-%m-%d}: whether the "
                "year is meant or a slip cannot be told."
            )
    return tuple(said)
