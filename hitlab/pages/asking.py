"""Asking for a page: of one hitter, or of everybody with the league looked at once."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from hitlab.counting.facts import Conventions
from hitlab.counting.finding import find_row
from hitlab.errors import ClaimError
from hitlab.pages.gathering import League
from hitlab.pages.making import page_of
from hitlab.pages.page import READERS, HitterPage, Reader
from hitlab.questions.question import History

__all__ = ["hitter_page", "hitter_pages"]


def hitter_page(
    counts_or_pitches: Any,
    who: str,
    event: str = "hard",
    per: str = "swings",
    *,
    reader: Reader = "coach",
    conventions: Conventions | None = None,
    prior: Any = None,
    season: str = "",
    history: History = "ids",
) -> HitterPage:
    """Make a page about a hitter: what is known, how sure it is, and what is too little to say.

    Parameters
    ----------
    counts_or_pitches
        A pitch table (a checked file's path, a ``Reading``, a frame), or a table of counts, of which the page
        has the rates alone. What columns are missing decides what stands on the page; each part that is
        missing says why.
    who
        Id, name, or some words of the name.
    event, per
        The rate that situations, form and the pitches to watch are looked at by.
    reader
        ``coach``; or ``player`` for one side in plain words, without rates.
    conventions
        How the debatable cases are counted.
    prior
        What is usual of that rate, stated from outside: a range such as ``"8% to 18%"``, or a law, as claims
        take it.
    season, history
        One season of a table of several, the earlier ones being the history of its rates, or ``career``: as
        claims take them.

    Returns
    -------
    HitterPage
        Prints as text; its ``save`` writes one ``.html`` that needs no network, or a ``.pdf``.

    Raises
    ------
    UnknownHitterError
        Where nobody, or more than one, is called so.
    ClaimError
        Where ``reader`` is another word.
    HitlabError
        Where the rate cannot be counted.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab import hitter_page
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "in_play": [190, 200, 150], "hard": [104, 70, 63]})
    >>> page = hitter_page(team, "Kvalbakk")
    >>> page.table()[["rate_words", "events", "exposure", "verdict"]]
                            rate_words  events  exposure verdict
    0          balls in play per swing     190       400    open
    1         hard-hit balls per swing     104       400   above
    2  hard-hit balls per ball in play     104       190   above
    """
    _check(reader)
    league = League.of(counts_or_pitches, event, per, conventions, prior, season, history)
    return page_of(league, find_row(league.counts, who), reader)


def hitter_pages(
    counts_or_pitches: Any,
    event: str = "hard",
    per: str = "swings",
    *,
    club: str = "",
    reader: Reader = "coach",
    conventions: Conventions | None = None,
    prior: Any = None,
    season: str = "",
    history: History = "ids",
) -> Iterator[HitterPage]:
    """Make the pages of everybody, or of a club; the league is looked at once.

    Parameters
    ----------
    counts_or_pitches, event, per, reader, conventions, prior, season, history
        As for :func:`hitter_page`.
    club
        Only its hitters; they are compared with everybody all the same.

    Returns
    -------
    iterator of HitterPage
        One after the other, in the order of the counts.

    Raises
    ------
    ClaimError
        Where ``reader`` is another word, or no club is called so.
    HitlabError
        Where the rate cannot be counted.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab import Counts
    >>> from hitlab.pages import hitter_pages
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch"], "club": ["Larks", "Herons"],
    ...                      "swings": [400, 380], "hard": [104, 70]})
    >>> counts = Counts.from_table(team, by="hitter")
    >>> [page.hitter for page in hitter_pages(counts, club="Herons")]
    ['Nils Haxditch']
    """
    _check(reader)
    league = League.of(counts_or_pitches, event, per, conventions, prior, season, history)
    return (page_of(league, place, reader) for place in league.places(club))


def _check(reader: str) -> None:
    if reader not in READERS:
        raise ClaimError(f"reader={reader!r}: give one of {', '.join(READERS)}")
