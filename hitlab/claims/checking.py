"""Checking a claim: one function a kind. Each puts its arguments into a question and asks it.

A pitch table can be asked for a situation and for days; counts are taken as they are. Where the games are
told (by a pitch table's column, or counts by hitter and game), attempts of one game that are alike are
allowed for; what is said of records stays as it is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any, Literal, TypedDict, Unpack

from hitlab.claims.result import Claim
from hitlab.errors import ClaimError
from hitlab.estimates.league_law import LeagueLaw, what_is_usual
from hitlab.questions.question import About, Direction, History, Question, Subject

if TYPE_CHECKING:
    from hitlab.approach.responses import Responses
    from hitlab.counting.counts import Counts
    from hitlab.counting.facts import Conventions
    from hitlab.counting.looks import Looks
    from hitlab.game.advancing import Advancing
    from hitlab.game.base_out import Spot
    from hitlab.game.opposing import Opposing
    from hitlab.over_time.after_looking import LookedAt
    from hitlab.two_rates.disjoint import RateOf

__all__ = [
    "Asked",
    "Bounds",
    "check_above",
    "check_ahead",
    "check_hot",
    "check_leads",
    "check_more",
    "check_near",
    "check_response",
    "check_split",
    "check_spot",
    "check_steady",
    "check_together",
    "check_top",
]


class Bounds(TypedDict, total=False):
    """What every claim can be asked with.

    Attributes
    ----------
    about
        ``underlying`` (of the true rates, and so of the future) or ``record`` (as it stands today, counted).
    holds_at, fails_at
        The chances from which a claim holds (.90) and up to which it does not (.10); fix them before looking.
    conventions
        How the debatable cases of a pitch table are counted; counts have to be counted so already, but for
        ``eye`` and ``most_unknown``.
    season
        One season of a table of several: the earlier ones then count as history of a rate, by what an attempt
        of them is found to be worth; splits, form, changes, responses and spots take its own pitches alone.
        ``"career"`` for all of them as one record, which form has none of. A season is a calendar year, or
        what the column ``season`` says; what is of another level, bat or way to tell hard balls is left out.
    history
        ``"names"`` where a name is one person in all seasons and no id tells who is who, ``"none"`` for a
        season by itself; ``"ids"`` where not given.
    """

    about: About
    holds_at: float
    fails_at: float
    conventions: Conventions
    season: str | int | None
    history: History


class Asked(Bounds, total=False):
    """What a claim about one rate can be asked with, all of it by keyword.

    Attributes
    ----------
    event, per
        The rate: two counts, the first within the second; ``hard`` per ``swings`` where not given. A count
        may be restricted by a situation: ``"swings at balls=0 strikes=0"``.
    when
        A term of a situation, or several that all have to be true: ``"pitch_kind=breaking"``.
    since, until
        First and last day: ``"2031-05-15"``, or ``"May 15"`` and ``"May"`` where the table is of one year.
    direction
        ``less`` for lowest, below, fewer; ``more`` where not given.
    subject
        ``pitcher`` for what those who face him do, ``club`` for whole clubs; ``hitter`` where not given.
    club
        Rankings: compare the hitters of this club only.
    minimum
        Rankings: fewest exposures to be compared; a quarter of the largest where not given.
    prior
        What is known from outside of the true rates of hitters like these: ``shrink(league, event,
        per).law`` for a club of the league, a range such as ``"8% to 18%"`` in which nine hitters in ten lie,
        or ``law.spread_alone`` where a radar told what an eye tells here. A note says what the table would
        tell without it.
    independent
        Take the attempts of one game for independent.
    groups
        A column whose values are kinds of hitters (role, class year, club) with true rates around a mean of
        their own, and a spread and a link with exposure of their own where they are few and large, as far
        as the table bears it out: of the table, or of ``traits``.
    covariates
        Columns of numbers that the mean may follow, likewise.
    by_exposure
        Whether the mean may follow the exposure; ``"auto"``, weighed, where not given.
    traits
        A frame, or a file's path, with one row a hitter that holds groups and covariates.
    earlier
        The same hitters' earlier season, pitches or counts, or a list of seasons, the last one first; what
        an attempt of it is worth is learned from this table.
    """

    event: str
    per: str
    when: str | Sequence[str]
    since: str | None
    until: str | None
    direction: Direction
    subject: Subject
    club: str | None
    minimum: int | None
    prior: LeagueLaw | str | None
    independent: bool
    groups: str
    covariates: Sequence[str]
    by_exposure: bool | Literal["auto"]
    traits: Any
    earlier: Any


def check_leads(table: Any, hitter: str | None = None, **asked: Unpack[Asked]) -> Claim:
    """Check "nobody does it more often than she does".

    Parameters
    ----------
    table
        A pitch table (a checked file's path, a ``Reading``, a frame) or counts.
    hitter
        Name, label or id; a surname is enough where only one has it. Whoever has the highest observed rate
        where not given. Claims about a value or a change are also asked of ``"league"``: all together.
    asked
        Rate, situation, days and bounds: see :class:`Asked`.

    Returns
    -------
    Claim
        The verdict, the chance behind it, a sentence that is safe to say, and what it rests on.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    >>> from hitlab import demo_season
    >>> claim = check_leads(demo_season(), event="in_play", when="pitch_kind=fastball", about="record")
    >>> claim.verdict
    'holds'
    """
    return _ask("leads", table, hitter, asked)


def check_top(table: Any, hitter: str | None = None, *, top: int = 5, **asked: Unpack[Asked]) -> Claim:
    """Check "she is one of the five best at it".

    Parameters
    ----------
    table, hitter, asked
        As in :func:`check_leads`.
    top
        How many places.

    Returns
    -------
    Claim
        The verdict, the chance behind it, a sentence that is safe to say, and what it rests on.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "hard": [104, 70, 63]})
    >>> claim = hitlab.check_top(team, "Nils Haxditch", top=2)
    >>> claim.verdict
    'open'
    >>> claim.evidence[["hitter", "rate", "shrunk", "chance_top"]].round(2)
              hitter  rate  shrunk  chance_top
    0  Runa Kvalbakk  0.26    0.25        1.00
    1  Nils Haxditch  0.18    0.19        0.55
    2  Zora Quarmoor  0.18    0.19        0.45
    """
    return _ask("top", table, hitter, asked, top=top)


def check_above(table: Any, hitter: str, value: float | str, **asked: Unpack[Asked]) -> Claim:
    """Check "she does it more often than that": a rate above a value, or above everybody else's.

    Parameters
    ----------
    table, hitter, asked
        As in :func:`check_leads`; the law is fitted on everybody in the table.
    value
        Between 0 and 1, also as ``"20%"``, ``"1/5"`` or ``"one in five"``; or ``"league"``: everybody else in
        the table together, their true rates weighted by exposure.

    Returns
    -------
    Claim
        The verdict, the chance behind it, a sentence that is safe to say, and what it rests on.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "hard": [104, 70, 63]})
    >>> claim = hitlab.check_above(team, "Runa Kvalbakk", "one in five")
    >>> claim.verdict, round(claim.chance, 2)
    ('holds', 0.99)
    >>> print(claim.claim)
    Runa Kvalbakk's true rate of hard-hit balls per swing is above .200
    """
    return _ask("above", table, hitter, asked, value=value)


def check_near(
    table: Any, hitter: str, value: float | str, *, within: float | str | None = None, **asked: Unpack[Asked]
) -> Claim:
    """Check "one in five of his swings is hit hard": a rate within a stated width of a value.

    Parameters
    ----------
    table, hitter, asked
        As in :func:`check_leads`.
    value
        As in :func:`check_above`, the league left out.
    within
        Half of the width, as a rate; a tenth of the value where not given: "one in five" is then .180 to
        .220, which keeps apart from one in four and one in six.

    Returns
    -------
    Claim
        The verdict, the chance behind it, a sentence that is safe to say, and what it rests on.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "hard": [104, 70, 63]})
    >>> claim = hitlab.check_near(team, "Nils Haxditch", "one in five")
    >>> claim.verdict, round(claim.chance, 1)
    ('open', 0.6)
    >>> print(claim.claim)
    Nils Haxditch's true rate of hard-hit balls per swing is between .180 and .220
    """
    return _ask("near", table, hitter, asked, value=value, within=within)


def check_ahead(table: Any, hitter: str, other: str, **asked: Unpack[Asked]) -> Claim:
    """Check "she does it more often than he does": one hitter's rate above another's.

    The notes give the raw difference with its hybrid-score interval, which knows nothing of the others.

    Parameters
    ----------
    table, hitter, asked
        As in :func:`check_leads`; the law is fitted on everybody in the table.
    other
        The other hitter: name, label or id.

    Returns
    -------
    Claim
        The verdict, the chance behind it, a sentence that is safe to say, and what it rests on.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "hard": [104, 70, 63]})
    >>> claim = hitlab.check_ahead(team, "Haxditch", "Quarmoor")
    >>> claim.verdict, round(claim.chance, 2)
    ('open', 0.55)
    >>> print(claim.avoid)
    “Nils Haxditch is clearly ahead of Zora Quarmoor in hard-hit balls per swing.” The numbers leave it open.
    """
    return _ask("ahead", table, hitter, asked, other=other)


def check_split(
    table: Any,
    hitter: str,
    *,
    inside: Counts | None = None,
    situation: str | None = None,
    against: str | None = None,
    looks: Looks | None = None,
    **asked: Unpack[Asked],
) -> Claim:
    """Check "he does it more often in that situation": his rate there above that of his own rest.

    Whether it is above the *league's* there is another question: ``check_above(table, hitter, "league",
    when=...)``. The chance is pulled toward what the situation does to everybody, and a small split more so.
    Given a pitch table, the usual situations tell how much hitters differ, too, and the chance is that of
    ``all_splits``. From counts alone the one situation tells it: less is called then.

    Parameters
    ----------
    table, hitter, asked
        As in :func:`check_leads`; ``when=`` is the situation.
    inside, situation
        Where ``table`` is counts: those of the pitches in the situation, and the situation in words that
        follow "per swing", such as ``"on breaking balls"``.
    against
        ``rest`` (by default): his own other pitches. ``usual``: his difference from them against what the
        situation does to everybody.
    looks
        The log of the splits looked at before; this one is added, and the answer says how many there are
        and how many of those that stand out are expected to be false.

    Returns
    -------
    Claim
        The verdict, the chance behind it, a sentence that is safe to say, and what it rests on.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "hard": [104, 70, 63]})
    >>> breaking = team.assign(swings=[110, 120, 90], hard=[16, 20, 12])
    >>> claim = hitlab.check_split(
    ...     team, "Runa Kvalbakk", inside=breaking, situation="on breaking balls", direction="less")
    >>> claim.verdict
    'holds'
    >>> print(claim.claim)
    Runa Kvalbakk's true rate of hard-hit balls per swing is lower on breaking balls than otherwise
    """
    given = {"inside": inside, "looks": looks}
    return _ask("split", table, hitter, asked, given, words=situation, against=against)


def check_more(
    table: Any,
    hitter: str,
    *,
    before: Counts | None = None,
    than: str | None = None,
    factor: float | None = None,
    looked_at: LookedAt | None = None,
    **asked: Unpack[Asked],
) -> Claim:
    """Check "more power than before": a true rate that is higher, lower or another in a later period.

    Parameters
    ----------
    table, hitter, asked
        As in :func:`check_leads`; ``since=`` is where the later period begins, and ``direction`` may be
        ``either`` for "a different hitter since May".
    before
        Where ``table`` is counts, of the later period: everybody's counts in the earlier one.
    than
        The earlier period in words: ``"before"``, ``"two years ago"``, ``"in April"``.
    factor
        For ``either``: how many times the odds have to be higher or lower; 1.25 where not given.
    looked_at
        What was looked at before day and hitter were chosen: ``one day`` (chosen beforehand, as is supposed
        where not given), ``all days``, ``all hitters``, ``all days and hitters``. The best of many shows a
        change where there is none; then the chance is at most what luck alone leaves for one.

    Returns
    -------
    Claim
        The verdict, the chance behind it, a sentence that is safe to say, and what it rests on.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> april = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                       "swings": [110, 120, 90], "hard": [16, 24, 17]})
    >>> later = april.assign(swings=[290, 260, 260], hard=[88, 46, 46])
    >>> claim = hitlab.check_more(later, "Runa Kvalbakk", before=april, than="in April")
    >>> claim.verdict
    'holds'
    >>> print(claim.claim)
    Runa Kvalbakk's true rate of hard-hit balls per swing is higher than in April
    """
    return _ask(
        "more", table, hitter, asked, {"before": before}, than=than, factor=factor, looked_at=looked_at
    )


def check_hot(
    table: Any,
    hitter: str,
    *,
    stretch: int | None = None,
    factor: float | None = None,
    **asked: Unpack[Asked],
) -> Claim:
    """Check "she is on a hot streak": her true odds now at least 1.25 times her usual ones.

    Parameters
    ----------
    table
        A pitch table with game and date, or everybody's counts by hitter, game and date.
    hitter, asked
        As in :func:`check_leads`. For an event that is bad for a hitter, such as whiffs, "hot" reads "more
        than usual".
    stretch
        How many of his last games are "now", 12 where not given; fix it before looking, a length chosen to
        look hot is no stretch.
    factor
        Odds now over usual odds, above 1; 1.25 where not given.

    Returns
    -------
    Claim
        The verdict, the chance behind it, a sentence that is safe to say, and what it rests on.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    The rate doubled over the last six games; whether the hitter is hot stays open all the same:

    >>> import hitlab
    >>> import pandas as pd
    >>> games = pd.DataFrame({"hitter": ["Runa Kvalbakk"] * 24 + ["Nils Haxditch"] * 24,
    ...                       "date": [f"2031-05-{day:02d}" for day in range(1, 25)] * 2,
    ...                       "swings": 5, "hard": [1] * 18 + [2] * 6 + [1] * 24})
    >>> claim = hitlab.check_hot(games, "Runa Kvalbakk", stretch=6)
    >>> claim.verdict
    'open'
    >>> claim.evidence[["from", "hard", "swings", "rate", "shrunk"]].round(2)
             from  hard  swings  rate  shrunk
    0  2031-05-01     6      30   0.2    0.23
    1  2031-05-07     6      30   0.2    0.23
    2  2031-05-13     6      30   0.2    0.23
    3  2031-05-19    12      30   0.4    0.27
    """
    return _ask("hot", table, hitter, asked, stretch=stretch, factor=factor)


def check_steady(
    table: Any,
    hitter: str,
    *,
    stretch: int | None = None,
    factor: float | None = None,
    **asked: Unpack[Asked],
) -> Claim:
    """Check "she has been steady since April": her true odds never 1.25 times up or down from all her games'.

    Parameters
    ----------
    table, hitter, stretch
        As in :func:`check_hot`.
    asked
        As in :func:`check_leads`; with ``since=`` only stretches that begin then or later are looked at, and
        they are still held against all games of the table.
    factor
        Odds in a stretch over those in all games, or the other way round, that end steadiness; above 1.

    Returns
    -------
    Claim
        The verdict, the chance behind it, a sentence that is safe to say, and what it rests on.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    Even a record that never moves leaves it open, for 40 swings a stretch say little:

    >>> import hitlab
    >>> import pandas as pd
    >>> games = pd.DataFrame({"hitter": ["Runa Kvalbakk"] * 24 + ["Nils Haxditch"] * 24,
    ...                       "date": [f"2031-05-{day:02d}" for day in range(1, 25)] * 2,
    ...                       "swings": 5, "hard": [1] * 18 + [2] * 6 + [1] * 24})
    >>> claim = hitlab.check_steady(games, "Nils Haxditch", stretch=8)
    >>> claim.verdict
    'open'
    >>> claim.evidence[["from", "hard", "swings", "rate", "shrunk"]].round(2)
             from  hard  swings  rate  shrunk
    0  2031-05-01     8      40   0.2    0.21
    1  2031-05-09     8      40   0.2    0.21
    2  2031-05-17     8      40   0.2    0.21
    """
    return _ask("steady", table, hitter, asked, stretch=stretch, factor=factor)


def check_response(
    table: Any,
    hitter: str | None = None,
    *,
    response: str = "whiff",
    direction: Direction | None = None,
    responses: Responses | None = None,
    **asked: Unpack[Bounds],
) -> Claim:
    """Check "missed one badly and then did not miss the next".

    Parameters
    ----------
    table
        A pitch table, or ``tally(pitches)`` of the same pitches as ``responses``.
    hitter
        Name, label or id; ``None`` for all hitters together.
    response
        What is said of the next pitch: ``whiff``, ``hard``, ``swing``, ``take`` or ``same kind``.
    direction
        Whether it is said to be less or more frequent after a whiff than after another strike that brings
        the same count; by default what is usually said (whiffs and swings less, the others more).
    responses
        ``after_whiff(pitches)`` where it is at hand already.
    asked
        The bounds: see :class:`Bounds`.

    Returns
    -------
    Claim
        The verdict, the chance behind it, a sentence that is safe to say, and what it rests on.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    >>> import hitlab
    >>> claim = hitlab.check_response(hitlab.demo_season())
    >>> claim.verdict
    'does not hold'
    >>> print(claim.avoid)
    “Hitters as a group learned from the miss.” Nothing here shows why, and no single pitch shows it.
    """
    options = {"response": response, "direction": direction}
    return _ask("response", table, hitter, asked, {"responses": responses}, **options)


def check_together(
    table: Any,
    first: RateOf | str | None = None,
    second: RateOf | str | None = None,
    **asked: Unpack[Bounds],
) -> Claim:
    """Check "hitters who do the one more often do the other more often, too".

    Parameters
    ----------
    table
        A pitch table; or two rates correlated already, as ``correlate_rates`` or ``correlate_counts`` gives
        them.
    first, second
        The two rates, where ``table`` is a pitch table; as words such as ``"hard per swings"``, or as
        ``RateOf``, with a situation of each.
    asked
        The bounds: see :class:`Bounds`. The chance is that the correlation of true talents is positive.

    Returns
    -------
    Claim
        The verdict, the chance behind it, a sentence that is safe to say, and what it rests on.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> from hitlab.two_rates import RateOf, correlate_counts
    >>> team = pd.DataFrame({"hitter": ["Kvalbakk", "Haxditch", "Quarmoor", "Wychditch"],
    ...                      "swings": [400, 380, 350, 310], "whiffs": [110, 60, 84, 40],
    ...                      "contact": [290, 320, 266, 270], "in_play": [110, 170, 120, 150]})
    >>> link = correlate_counts(team, team, RateOf("whiffs", "swings"), RateOf("in_play", "contact"))
    >>> claim = hitlab.check_together(link)
    >>> claim.verdict, round(claim.chance, 2)
    ('does not hold', 0.1)
    """
    return _ask("together", table, None, asked, first=_plain(first), second=_plain(second))


def check_spot(
    table: Any,
    spot: Spot,
    hitter: str | None = None,
    *,
    candidates: Sequence[str] | None = None,
    minimum: int | None = None,
    pitcher: Opposing | None = None,
    following: Any = None,
    tie_wins: float = 0.50,
    rules: Advancing | None = None,
    seed: int = 0,
    plan: bool = False,
    groups: str = "",
    covariates: Sequence[str] = (),
    traits: Any = None,
    **asked: Unpack[Bounds],
) -> Claim:
    """Check "he is the right hitter for this spot": nobody else gives a higher chance to win.

    Parameters
    ----------
    table
        A pitch table, ``outcome_counts(pitches)``, a table of counts with its nine outcomes, or
        ``OutcomeRates``.
    spot
        Score, outs and bases in the home half of the last inning: ``Spot(-2, 1, "first second")``.
    hitter
        Name, label or id; the one with the highest estimated chance to win where not given.
    candidates
        Who else can be sent up, by name, label or id: those on the bench, or the one who is due. Everybody
        with ``minimum`` plate appearances where not given.
    pitcher
        Who pitches: ``opposing_pitcher(pitches, pitcher=...)``.
    minimum, following, tie_wins, rules, seed
        As in ``best_for_spot``.
    plan
        Say of an open answer how many more plate appearances would settle it; that takes most of the time.
    groups, covariates, traits
        Kinds of hitters, and numbers, that each of the nine probabilities may follow: see :class:`Asked`.
    asked
        The bounds: see :class:`Bounds`.

    Returns
    -------
    Claim
        The chance is that of truly being the best of those compared. No record can settle it.

    Raises
    ------
    ClaimError, UnknownHitterError, GameStateError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> bench = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...     "strikeouts": [60, 90, 50], "other_outs": [140, 120, 170], "walks": [30, 20, 20],
    ...     "singles": [45, 50, 62], "doubles": [15, 25, 10], "home_runs": [9, 4, 6],
    ...     "triples": 0, "hit_by_pitches": 0, "reached_on_errors": 0})
    >>> claim = hitlab.check_spot(bench, hitlab.game.Spot(-1, 2, "first second"), "Runa Kvalbakk")
    >>> claim.verdict
    'open'
    >>> claim.evidence[["hitter", "plate_appearances", "win_chance"]].round(3)
              hitter  plate_appearances  win_chance
    0  Runa Kvalbakk                299       0.169
    1  Nils Haxditch                309       0.168
    2  Zora Quarmoor                318       0.162
    """
    from hitlab.game.outcomes import chances_of

    options = {
        "gap": spot.gap,
        "outs": spot.outs,
        "bases": spot.bases,
        "candidates": None if candidates is None else list(candidates),
        "pitcher": dict(pitcher.asked) if pitcher is not None and pitcher.asked else None,
        "following": None if following is None else chances_of(following, "following").tolist(),
        "tie_wins": tie_wins,
        "rules": None if rules is None else asdict(rules),
        "seed": seed or None,
        "plan": plan or None,
    }
    known = {"groups": groups or None, "covariates": covariates or None, "traits": traits}
    told = {"minimum": minimum, **known, **asked}
    return _ask("spot", table, hitter, told, {"pitcher": pitcher}, **options)


def _plain(rate: RateOf | str | None) -> dict[str, Any] | None:
    """Return a rate as plain values; the situation by its terms."""
    if rate is None:
        return None
    if isinstance(rate, str):
        from hitlab.two_rates.disjoint import RateOf

        rate = RateOf.called(rate)
    terms = tuple(getattr(rate.where, "terms", ()))
    if rate.where is not None and not terms:
        raise ClaimError(
            f"{rate.title} has a situation without terms; give situation(...), or correlate_rates(...) first"
        )
    return {"event": rate.event, "per": rate.per, **({"when": list(terms)} if terms else {})}


def _ask(
    kind: str,
    table: Any,
    who: str | None,
    asked: Mapping[str, Any],
    given: Mapping[str, Any] | None = None,
    **options: Any,
) -> Claim:
    """Put a function's arguments into a question and ask it; what was not told is left out."""
    told = {name: value for name, value in asked.items() if value is not None}
    strange = [name for name in told if name not in Asked.__annotations__]
    if strange:
        raise ClaimError(f"check_{kind} knows no {strange[0]}=; it takes {', '.join(Asked.__annotations__)}")
    if "conventions" in told:
        from hitlab.questions.source import demand_counted_so

        demand_counted_so(table, told["conventions"])
    beside = {name: told.pop(name) for name in ("traits", "earlier") if name in told}
    law = told.pop("prior", None)
    question = Question(
        kind=kind,
        who="" if who is None else str(who),
        prior=None if law is None else what_is_usual(law),
        options={name: value for name, value in options.items() if value is not None},
        **told,
    )
    there = {name: value for name, value in (given or {}).items() if value is not None} | beside
    return question.ask(table, **there)
