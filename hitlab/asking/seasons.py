"""Which season of several a sentence names: it is taken out, and the rest is read as of that season."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hitlab.asking.numbers import MONTHS
from hitlab.questions.question import CAREER
from hitlab.showing import shown_name
from hitlab.wording import listed

if TYPE_CHECKING:
    from hitlab.asking.people import Known

__all__ = ["OF_A_DAY", "SEVERAL_SEASONS", "Named", "none_of", "season_named"]

SEVERAL_SEASONS = "of this table's seasons one can be asked, as in 2031, or all together as a career"
"""What can be asked in place of a time that is told otherwise."""

_LED = r"(?:\b(?:in|during|for|over|of|throughout|across|through)\s+)?(?:\ball of\s+)?"
_DID = r"(?:(?:he|she|they|it)\s+)?(?:(?:did|does|do|was|were|has|had)\s+)?(?:in\s+|during\s+)?"
_CAREER = re.compile(
    rf"{_LED}(?:\b(?:his|her|their|the|a)\s+)?(?:\b(?:whole|entire|full)\s+)?\b(?:career|lifetime)\b"
    r"(?!\s+(?:year|high|low|best|worst|night|day|game|season))|"
    rf"{_LED}\ball\s+(?:(?:of\s+)?(?:his|her|their|the|our)\s+)?(?:seasons|years)\b",
    re.IGNORECASE,
)
_THIS = re.compile(r"\b(?:this|the current)\s+(?:season|year)\b", re.IGNORECASE)
_LAST = re.compile(
    rf"{_LED}(?:\bthe\s+)?\b(?:last|previous)\s+(?:season|year)\b(?!\s+(?:two|three))", re.IGNORECASE
)
_THAN_EARLIER = re.compile(
    rf"\bthan\s+{_DID}(?:(?:all|any|the)\s+)*(?:earlier|previous|past|other|former)\s+(?:seasons?|years?)\b",
    re.IGNORECASE,
)
_MONTH = rf"\b(?:{'|'.join(MONTHS)})\b"
OF_A_DAY = re.compile(
    rf"{_MONTH}\s+(?:the\s+)?(?:\d\d?|[a-z]+)(?:st|nd|rd|th)\s*,?\s*$|{_MONTH}\s+(?:the\s+)?\d\d?\s*,?\s*$|"
    rf"\b(?:since|until|till|before|after|from|through|to|by)\s+(?:\w+\s+){{0,2}}{_MONTH}\s*,?\s*$|\d[-/]$",
    re.IGNORECASE,
)
"""Before a year that is that of a day."""
_A_YEAR = re.compile(
    r"\b(?:in|during|since|throughout)\s+(?:the\s+)?((?:19|20)\d\d)\b(?![-/\d])", re.IGNORECASE
)
_EDGES = re.compile(r"\s+(?=[,.;:?!])|^[\s,;:]+")


@dataclass(frozen=True, slots=True)
class Named:
    """What a sentence says of seasons.

    Attributes
    ----------
    rest
        The sentence without it.
    season
        As a question has it; empty where none is named.
    why
        Why it cannot be asked; empty where it can.
    asks
        What has to be asked back though the rest can be read.
    """

    rest: str
    season: str = ""
    why: str = ""
    asks: str = ""


def none_of(season: str, known: Known) -> str:
    """Say why a season that is asked for beside the sentence is none of the table; empty where it is one."""
    if season == "":
        return ""
    if known.columns is None:
        return "no season is told in a table of counts: give the pitch table itself"
    names = list(known.seasons)
    if season == CAREER or (not names and "season" in known.columns):
        return ""
    if not names and known.days is None:
        return "no day is recorded in this table, and so no season"
    names = names or [str(known.days[0].year)] if known.days is not None else names
    if season in names:
        return ""
    told, several = listed([shown_name(name) for name in names]), len(names) > 1
    them = "seasons are" if several else "season is"
    return f"the table's {them} {told}, and {shown_name(season)} is none of {'them' if several else 'it'}"


def season_named(sentence: str, known: Known) -> Named:
    """Find the season that a sentence names; nothing where the table has one season, or none is told.

    Examples
    --------
    >>> from datetime import datetime
    >>> from hitlab.asking import Known
    >>> days = {str(year): (datetime(year, 4, 1), datetime(year, 9, 1)) for year in (2030, 2031)}
    >>> known = Known(None, (), frozenset({"date"}), seasons=days)
    >>> season_named("in 2030, Izezno misses more often than anyone", known)
    Named(rest='Izezno misses more often than anyone', season='2030', why='', asks='')
    >>> season_named("Izezno misses more often than last year", known)
    Named(rest='Izezno misses more often since 2031-04-01 than before', season='career', why='', asks='')
    """
    names = list(known.seasons)
    if len(names) < 2:
        return Named(sentence)
    first = f"{known.seasons[names[-1]][0]:%Y-%m-%d}"
    than_last = re.compile(
        rf"\bthan\s+{_DID}(?:(?:last|the\s+previous)\s+(?:season|year)\b|{_named(names[-2])})", re.IGNORECASE
    )
    for pattern in (_THAN_EARLIER, than_last):
        if pattern.search(sentence):
            rest = _THIS.sub("", pattern.sub(f"since {first} than before", sentence))
            rest = _without(re.compile(_LED + _named(names[-1]), re.IGNORECASE), rest)[0]
            last = pattern is than_last and len(names) > 2
            asks = f"{shown_name(names[-1])} can be asked against all seasons before it together: is it that?"
            return Named(_tidy(rest), CAREER, asks=asks if last else "")
    told: list[str] = []
    rest = sentence
    for name in names:
        since = re.compile(rf"\bsince\s+{_named(name)}", re.IGNORECASE)
        if since.search(rest):
            rest = since.sub(f"since {known.seasons[name][0]:%Y-%m-%d}", rest)
            told.append(CAREER)
        rest, found = _without(re.compile(_LED + _named(name), re.IGNORECASE), rest)
        told += [name] * found
    for pattern, name in ((_CAREER, CAREER), (_LAST, names[-2])):
        rest, found = _without(pattern, rest)
        told += [name] * found
    # Said of one season of several as of the only one: by the record.
    told += [names[-1]] * bool(_THIS.search(rest))
    told = list(dict.fromkeys(told))
    there = f"the table's seasons are {listed([shown_name(name) for name in names])}"
    year = _A_YEAR.search(rest)
    if year is not None and not any(one.startswith(year[1]) for one in names):
        return Named(rest, why=f"{there}, and {year[1]} is none of them")
    if len(told) > 1:
        return Named(rest, why=f"{there}: one of them can be asked at a time, or all as a career")
    return Named(_tidy(rest), "".join(told))


def _named(name: str) -> str:
    """Return the pattern of a season by its name."""
    return rf"(?:\bthe\s+)?(?:\bseason\s+(?:of\s+)?)?(?<![-/\d]){re.escape(name)}(?![-/\d])(?:\s+season\b)?"


def _without(pattern: re.Pattern[str], sentence: str) -> tuple[str, bool]:
    """Take what fits out of a sentence, but for the year of a day."""
    found = [one for one in pattern.finditer(sentence) if not OF_A_DAY.search(sentence[: one.start()])]
    for one in reversed(found):
        sentence = f"{sentence[: one.start()]}{sentence[one.end() :]}"
    return sentence, bool(found)


def _tidy(sentence: str) -> str:
    """Put the blanks and commas right around what was taken out."""
    return _EDGES.sub("", re.sub(r"\s+", " ", sentence)).strip()
