"""Plain words for counts, rates and chances, used wherever hitlab speaks to people."""

from __future__ import annotations

import math
import re
from pathlib import PurePath
from typing import NamedTuple

__all__ = [
    "Called",
    "capitalised",
    "chance_text",
    "club_called",
    "hitters_text",
    "is_file_name",
    "level_words",
    "listed",
    "percent",
    "possessive",
    "rate_or_bounds",
    "rate_text",
    "record_text",
    "signed_text",
    "source_name",
]


def capitalised(text: str) -> str:
    """Return a text as a sentence begins: with a capital, and the rest as it is.

    Examples
    --------
    >>> capitalised("two strikes against Bo"), capitalised("")
    ('Two strikes against Bo', '')
    """
    return text[:1].upper() + text[1:]


def possessive(name: str, *, plural: bool = False) -> str:
    """Return whose something is; after the s of a plural the apostrophe stands alone.

    Examples
    --------
    >>> possessive("Izezno"), possessive("Abaliches"), possessive("the Larks", plural=True)
    ("Izezno's", "Abaliches's", "the Larks'")
    """
    return f"{name}'" if plural and name.endswith("s") else f"{name}'s"


class Called(NamedTuple):
    """What somebody is called within a sentence, and how the sentence goes on.

    Attributes
    ----------
    name
        With the article that a sentence needs.
    plural
        Whether the name is of many.
    """

    name: str
    plural: bool = False

    @property
    def first(self) -> str:
        """The name as a sentence begins with it: its article with a capital, a name as it is spelled."""
        return capitalised(self.name) if self.name.startswith("the ") else self.name

    @property
    def bare(self) -> str:
        """The name without an article, as it stands before what is the club's: ``the Larks hitters``."""
        return _ARTICLE.sub("", self.name, count=1)

    @property
    def whose(self) -> str:
        """The name as whose something is."""
        return possessive(self.name, plural=self.plural)

    def does(self, one: str, many: str) -> str:
        """Return the verb that goes with the name, of that for one and that for many."""
        return many if self.plural else one


_ARTICLE = re.compile(r"the\s+(?=\S)", re.IGNORECASE)
_MANY = re.compile(r"\b[^\W\d_]+[^\W\d_siu]s\Z")  # no Moss, no Campus, no Paris
_PLACES = re.compile(
    r"(?:st\.?|ste\.?|saint|san|santa|los|las|les|fort|ft\.?|port|mount|mt\.?|lake|new|great|upper|lower|"
    r"north|south|east|west)\s+\S+\Z",
    re.IGNORECASE,
)


def club_called(name: str) -> Called:
    """Return what a club is called within a sentence: of many where its name ends in a plural in s.

    One word alone may be a place or a founder as well as a nickname: it is of one however it ends, unless an
    article stands before it. So are two words of which the first begins places' names (``St.``, ``Los``,
    ``New``). Nothing tells that other names are a place's or a person's: those ending in s are of many.

    Examples
    --------
    >>> club_called("Dunmarrow Larks").name, club_called("Ashferry United").name
    ('the Dunmarrow Larks', 'Ashferry United')
    >>> [club_called(name).does("is", "are") for name in ("The Larks", "Larks", "St. Ottes")]
    ['are', 'is', 'is']
    """
    article = _ARTICLE.match(name)
    several = article is not None or (len(name.split()) > 1 and not _PLACES.match(name))
    if not (several and _MANY.search(name)):
        return Called(name)
    return Called(name if article else f"the {name}", plural=True)


def hitters_text(number: int) -> str:
    """Return how many hitters: ``1 hitter``, ``1,034 hitters``."""
    return f"{number:,} {'hitter' if number == 1 else 'hitters'}"


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


def chance_text(chance: float, holds_at: float | None = None, fails_at: float | None = None) -> str:
    """Return a chance in whole per cent, never as certainty: at 0 and 1 only the digits have run out.

    Parameters
    ----------
    chance
        From 0 to 1.
    holds_at, fails_at
        The bounds of a verdict beside which it stands: where whole per cent would be read as another verdict
        than the chance itself, decimals are added.

    Examples
    --------
    >>> chance_text(0.101), chance_text(0.101, 0.9, 0.1), chance_text(0.8996, 0.9, 0.1)
    ('10 %', '10.1 %', '89.96 %')
    """
    if math.isnan(chance):
        return "unknown"
    near = [bound for bound in (holds_at, fails_at) if bound is not None and not 0.01 <= bound <= 0.99]
    if chance > 0.99 and not any(bound > 0.99 for bound in near):
        return "more than 99 %"
    if chance < 0.01 and not any(bound < 0.01 for bound in near):
        return "less than 1 %"
    for digits in range(12):
        said = round(100 * chance, digits)
        if 0 < said < 100 and _same_side(chance, said, holds_at, fails_at):
            return f"{said:.{digits}f} %"
    return "more than 99 %" if chance > 0.5 else "less than 1 %"


def _same_side(chance: float, said: float, holds_at: float | None, fails_at: float | None) -> bool:
    """Say whether a chance and what is said of it, in per cent, are the same verdict."""
    same = True
    if holds_at is not None:
        same = (chance >= holds_at) == (said >= round(100 * holds_at, 9))
    if fails_at is not None:
        same = same and (chance <= fails_at) == (said <= round(100 * fails_at, 9))
    return same


def source_name(source: str) -> str:
    """Return a source as it is shown: a file without its folders, which are nobody else's business.

    Examples
    --------
    >>> source_name("mine/season.parquet"), source_name("mine/seasons/"), source_name("the pandas table")
    ('season.parquet', 'seasons/', 'the pandas table')
    """
    name = PurePath(source.replace("\\", "/")).name
    if source.endswith("/") and name:
        return f"{name}/"
    return name if is_file_name(name) else source


def is_file_name(text: str) -> bool:
    """Say whether a source is called by a file's name, which no sentence changes.

    Examples
    --------
    >>> is_file_name("may games.csv"), is_file_name("the demo season, an invented league")
    (True, False)
    """
    return re.fullmatch(r"[^\s/][^/]*\.\w{1,8}", text) is not None
