"""A rate as it moves over a season or a career, against what luck around one constant rate would look like.

What is tested, fixed beforehand: the rate over a rolling window (12 games unless said otherwise), as its
distance from the hitter's own rate over all in standard errors of a window of that exposure. The hottest
window is the largest distance up, the coldest the largest down. Both are compared with the hottest and the
coldest window anywhere in seasons of luck, so that having looked everywhere is paid for. A season of luck is
the hitter's own games shuffled into another order (``shuffled games``: whatever happens inside a game stays
as it was), or, with fewer than 20 games or where single rows are whole seasons, his events dealt out anew
over all his attempts (``dealt attempts``). Both keep his total, so nothing has to be assumed of his rate.

When it fails: a streak shorter or longer than the window is seen less well; dealing attempts out anew takes
dependence within a game for form (at a correlation of .05, .25 of lucky seasons were called hot at a nominal
.10; shuffled games .09 to .11). A streak within luck has not been shown to be luck: ``chance_to_see`` says
how likely a real one would have stood out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import MOST_UNMEASURED
from hitlab.counting.events import is_gain, per_words, rate_words
from hitlab.counting.intervals import DEFAULT_LEVEL, share_interval
from hitlab.errors import CountsError
from hitlab.over_time.form_law import STRETCH
from hitlab.over_time.stretches import by_game, measured_part
from hitlab.results import Note, Part, Result, Table
from hitlab.wording import capitalised, level_words, percent, rate_text

__all__ = ["Form", "Luck", "form_over_time"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]
Luck = Literal["shuffled games", "dealt attempts"]
Season = tuple[Wholes, ...]
"""By game: events, exposure and, where some contact is unknown, how much of it, and all contact."""

_ENOUGH_GAMES = 20  # fewer cannot be shuffled into many different seasons
_FEWEST_DRAWS = 200


@dataclass(frozen=True, slots=True)
class Form(Result):
    """One hitter's rate over time.

    Attributes
    ----------
    data
        One row a window, in order: ``game`` (number of its last game), ``from``, ``to`` (times), ``games``,
        the event, the denominator, ``rate``, ``low``, ``high`` (Wilson interval of the window alone),
        ``so_far`` (rate from the start), ``point_low``, ``point_high`` (luck's band for a window named
        beforehand), ``luck_low``, ``luck_high`` (luck's band for all windows: the whole line stays inside in
        this share of lucky seasons); where hardness is unknown for some contact also ``unknown``, how much
        of it is in the window's own exposure: rates are then of the exposure without that share of the
        contact, and missing where nothing was measured.
    hitter, event, per, level
        Who, which rate, level of intervals and bands.
    window
        Length of the rolling window, in words.
    overall
        The rate over everything.
    hottest, coldest
        Rows of ``data``.
    chance_as_hot, chance_as_cold
        Share of lucky seasons with a window at least so hot, or so cold, anywhere.
    chance_as_uneven
        Twice the smaller of the two, at most 1: for "steady", which looks both ways.
    unmeasured
        The largest share of contact of unknown hardness of any window.
    unmeasured_extremes
        The larger share of the hottest and the coldest window.
    most_unmeasured
        Up to which share of any window it is said that all are within luck; that the hottest or the coldest
        is beyond luck is said only up to 5 % of the two.
    luck, draws
        How lucky seasons were made, and how many.
    notes
        What a reader of the counts has to know.
    """

    data: pd.DataFrame
    hitter: str
    event: str
    per: str
    level: float
    window: str
    overall: float
    hottest: int
    coldest: int
    chance_as_hot: float
    chance_as_cold: float
    unmeasured: float
    unmeasured_extremes: float
    most_unmeasured: float
    luck: Luck
    draws: int
    notes: tuple[str, ...]
    _season: Season
    _measured: Wholes  # of each game, whole numbers that add up to what was measured
    _window: _Window
    _hot_bound: float

    @property
    def chance_as_uneven(self) -> float:
        """Chance of a season of luck at least so uneven."""
        return min(1.0, 2 * min(self.chance_as_hot, self.chance_as_cold))

    def chance_to_see(
        self,
        factor: float = 2.0,
        games: int = STRETCH,
        *,
        draws: int = 1_000,
        seed: int | np.random.Generator = 0,
    ) -> float:
        """Return how often a real streak would have stood out from luck at this table's size.

        Parameters
        ----------
        factor
            How many times as large the odds are during the streak.
        games
            Games that it lasts, at a random place.
        draws, seed
            Simulated seasons of independent attempts, and their seed or generator.

        Returns
        -------
        float
            Share of seasons whose hottest window is beyond all but a share of 1 - level of lucky seasons.
        """
        many = len(self._measured)
        if not 0 < factor < np.inf or not 1 <= games <= many:
            raise CountsError(
                f"factor={factor!r}, games={games!r}: give a factor above 0 and a length from 1 to {many}"
            )
        rng = np.random.default_rng(seed)
        begin = rng.integers(0, many - games + 1, draws)[:, np.newaxis]
        there = (np.arange(many) >= begin) & (np.arange(many) < begin + games)
        odds = self.overall / (1 - self.overall) * np.where(there, factor, 1.0)
        events = rng.binomial(self._measured, odds / (1 + odds))
        others = (np.broadcast_to(each, there.shape) for each in self._season[1:])
        hot, _ = _extremes((events, *others), self._window)
        return float((hot >= self._hot_bound).mean())

    @property
    def within_luck(self) -> bool:
        """Whether the hottest and the coldest window are within luck at the level."""
        return self.chance_as_uneven > 1 - self.level

    @property
    def untold(self) -> str:
        """Why it is not told whether anything is beyond luck: too much there was not measured; else empty."""
        if self.within_luck:
            if self.unmeasured <= self.most_unmeasured:
                return ""
            return f"hardness is unknown for up to {percent(self.unmeasured)} of the contact of {self.window}"
        if self.unmeasured_extremes <= MOST_UNMEASURED:
            return ""
        best, worst = self.extremes
        return (
            f"hardness is unknown for up to {percent(self.unmeasured_extremes)} of the contact in the {best} "
            f"and the {worst} {self.window}"
        )

    @property
    def finding(self) -> str:
        """Whether anything is beyond luck, in a few words."""
        if self.untold:
            return "luck or not cannot be told"
        return "nothing here is beyond luck" if self.within_luck else "more than luck usually makes"

    @property
    def extremes(self) -> tuple[str, str]:
        """What the hottest and the coldest window are called."""
        return ("best", "worst") if is_gain(self.event) else ("highest", "lowest")

    def record_of(self, row: int, between: str) -> str:
        """Return the record of a row of ``data`` and its rate in words.

        A window of attempts has parts of games, and so of balls: they are said to the nearest one.

        Parameters
        ----------
        row
            Number of the row.
        between
            What stands between events and exposure, such as ``"in"``.
        """
        at = self.data.iloc[row]
        events, exposure, untold = (
            round(float(at.get(name, 0))) for name in (self.event, self.per, "unknown")
        )
        unknown = f" ({untold:,} ball{'s' if untold > 1 else ''} not measured)" if untold else ""
        return f"{events:,} {between} {exposure:,}{unknown}, {rate_text(at['rate'])}"

    @property
    def explanation(self) -> str:
        """What was found, in three sentences that can be read aloud."""
        parts = []
        spells = ("hot", "cold") if is_gain(self.event) else ("high", "low")
        rows, chances = (self.hottest, self.coldest), (self.chance_as_hot, self.chance_as_cold)
        for row, word, spell, chance in zip(rows, self.extremes, spells, chances, strict=True):
            at = self.data.iloc[row]
            parts.append(
                f"the {word} {self.window} ({at['from']} to {at['to']}) had {self.record_of(row, 'in')}; "
                f"{_in_hundred(chance)} of luck alone have one as {spell}"
            )
        same = (
            "the same games in another order"
            if self.luck == "shuffled games"
            else "the same events dealt anew"
        )
        which = spells[0] if self.chance_as_hot <= self.chance_as_cold else spells[1]
        if self.untold:
            finding = f"Whether that is luck cannot be told: {self.untold}."
        elif self.within_luck:
            finding = "Nothing here is beyond luck."
        else:
            finding = f"The {which} spell is more than luck usually makes."
        rate = rate_words(self.event, self.per)  # first, so that no name begins the sentence
        return (
            f"{capitalised(rate)} of {self.hitter}, {rate_text(self.overall)} over all: "
            f"{parts[0]}. {capitalised(parts[1])} (luck: {same}). {finding}"
        )

    @property
    def title(self) -> str:
        """The explanation."""
        return self.explanation

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of: what the bands are, too."""
        bands = f"bands: {level_words(self.level)}, of a window named beforehand and of all together"
        notes = (Note(note) for note in self.notes)
        return [self.title, *notes, bands, Table(self.table_for_people(), most_rows=20)]

    def table_for_people(self) -> pd.DataFrame:
        """Return the windows in order, rates as they are said."""
        shown = self.data.copy()
        for name in shown.columns:
            if pd.api.types.is_float_dtype(shown[name]) and name not in (self.event, self.per, "unknown"):
                shown[name] = [rate_text(value) for value in shown[name]]
        return shown


@dataclass(frozen=True, slots=True)
class _Window:
    """A rolling window: so many games, or so many attempts (then games are cut in proportion)."""

    games: int | None
    attempts: int | None

    def __call__(self, events: Floats, exposure: Floats, *others: Floats) -> list[Floats]:
        """Return events, exposure and what else is counted in every window, shape (seasons, windows)."""
        sums = [np.cumsum(np.pad(v, ((0, 0), (1, 0))), axis=1) for v in (events, exposure, *others)]
        if self.games is not None:
            return [total[:, self.games :] - total[:, : -self.games] for total in sums]
        n = sums.pop(1)
        # A window ends with each game from which on there are attempts enough: the same number of windows in
        # every season is not needed, so places without a full window get the first full one.
        size = float(self.attempts or 0)
        ends = np.maximum(n[:, 1:], size)
        inside = [
            np.stack(
                [
                    np.interp(end, at, total) - np.interp(end - size, at, total)
                    for end, at, total in zip(ends, n, count, strict=True)
                ]
            )
            for count in sums
        ]
        # Rounded, so that what is all of something is no more than that by a last bit.
        return [inside[0], np.full_like(inside[0], size), *(each.round(9) for each in inside[1:])]


def form_over_time(
    counts: Any,
    hitter: str,
    event: str = "hard",
    per: str = "swings",
    *,
    window: int = STRETCH,
    of: Literal["games", "attempts"] = "games",
    luck: Luck | None = None,
    level: float = DEFAULT_LEVEL,
    draws: int = 2_000,
    seed: int | np.random.Generator = 0,
) -> Form:
    """Follow a hitter's rate over time, beside what luck around a constant rate would look like.

    Parameters
    ----------
    counts
        Counts by hitter and game, and date for the order: ``tally(pitches, by=["hitter", "game", "date"])``.
        Any other unit of time does, such as the season for a career.
    hitter
        Id, label or name.
    event, per
        The rate.
    window, of
        Length of the rolling window, in games (rows) or in attempts.
    luck
        How lucky seasons are made; ``shuffled games`` from 20 games up, else ``dealt attempts``.
    level
        Of the bands and intervals.
    draws, seed
        Lucky seasons, and their seed or generator.

    Returns
    -------
    Form
        One row a window of games: the rate in it with its interval, and luck's bands; how hot and how cold
        luck alone would get.

    Raises
    ------
    CountsError
        Where the window is longer than what there is, or the event never or always happened.
    UnknownHitterError, MissingColumnsError
        Where the hitter, or the rate, is not there.

    References
    ----------
    Naus 1965, J. Amer. Stat. Assoc. 60:532-538 (the largest number in a moving window); Good 2005,
    Permutation, Parametric and Bootstrap Tests of Hypotheses (shuffling). From memory.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> games = pd.DataFrame({"hitter": "Runa Kvalbakk", "swings": 5, "hard": [1] * 18 + [2] * 6,
    ...                       "date": [f"2031-05-{day:02d}" for day in range(1, 25)]})
    >>> form = hitlab.form_over_time(games, "Runa Kvalbakk", window=6)
    >>> form.table().iloc[[0, form.hottest]][["from", "to", "hard", "swings", "rate"]]
              from          to  hard  swings  rate
    0   2031-05-01  2031-05-06     6      30   0.2
    18  2031-05-19  2031-05-24    12      30   0.4
    """
    if luck not in (None, "shuffled games", "dealt attempts"):
        raise CountsError(f"luck={luck!r}: give 'shuffled games' or 'dealt attempts'")
    if draws < _FEWEST_DRAWS:
        raise CountsError(f"draws={draws!r}: give {_FEWEST_DRAWS} or more, else the bands' ends are noise")
    if not 0 < level < 1:
        raise CountsError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    games = by_game(counts, event, per)
    place = games.place(hitter)
    mine, name = games.of(place), games.totals.labels[place]
    k, n, when = games.events[mine], games.exposure[mine], games.when[mine]
    u, c = games.unknown[mine], games.contact[mine]
    season = (k, n, u, c) if u.any() else (k, n)
    all_measured = float(measured_part(*(each.sum() for each in season[1:])))
    rolling = _window(window, of, (k, n), all_measured, name, event, per)
    how: Luck = luck or ("shuffled games" if len(k) >= _ENOUGH_GAMES else "dealt attempts")
    rng = np.random.default_rng(seed)
    game_measured = _in_whole_numbers(measured_part(*season[1:]))
    lucky = _lucky(season, game_measured, how, draws, rng)
    hot, cold = _extremes(lucky, rolling)
    own = [v[0] for v in rolling(*(each[np.newaxis].astype(float) for each in season))]
    if of == "attempts":  # before the first full window there is none
        full = np.cumsum(n) >= window
        own = [v[full] for v in own]
    own_k, own_all, own_n = own[0], own[1], measured_part(*own[1:])
    overall = float(k.sum() / all_measured)
    rates = np.divide(own_k, own_n, out=np.full(len(own_n), np.nan), where=own_n > 0)
    variance = np.full(len(own_n), np.inf)  # where nothing was measured
    error = np.sqrt(np.divide(overall * (1 - overall), own_n, out=variance, where=own_n > 0))
    away = np.where(own_n > 0, rates - overall, 0) / error
    hottest, coldest = int(away.argmax()), int(away.argmin())
    tail = (1 - level) / 2
    everywhere = np.quantile(cold, tail), np.quantile(hot, 1 - tail)
    one = np.quantile(_distances(lucky, rolling), [tail, 1 - tail])
    ends = np.arange(len(k) - len(own_k), len(k))
    starts = (
        ends - window + 1
        if of == "games"
        else np.searchsorted(np.cumsum(n), np.cumsum(n)[ends] - window, "right")
    )
    low, high = share_interval(np.rint(own_k), np.rint(np.maximum(own_n, own_k)), "wilson", level)
    so_far = measured_part(*(np.cumsum(each) for each in season[1:]))
    data = pd.DataFrame(
        {
            "game": ends + 1,
            "from": when[starts],
            "to": when[ends],
            "games": ends - starts + 1,
            event: own_k,
            per: own_all,
            "rate": rates,
            "low": low,
            "high": high,
            "so_far": np.divide(np.cumsum(k), so_far, out=np.full(len(so_far), np.nan), where=so_far > 0)[
                ends
            ],
            "point_low": np.maximum(overall + one[0] * error, 0),
            "point_high": np.minimum(overall + one[1] * error, 1),
            "luck_low": np.maximum(overall + everywhere[0] * error, 0),
            "luck_high": np.minimum(overall + everywhere[1] * error, 1),
        }
    )
    shares = np.zeros(len(data))
    if u.any():
        data["unknown"], contact = own[2:]
        np.divide(own[2], contact, out=shares, where=contact > 0)
    if of == "games":
        counted = [name for name in (event, per, "unknown") if name in data]
        data[counted] = data[counted].astype(np.int64)
    return Form(
        data,
        name,
        event,
        per,
        level,
        f"{window:,} {per_words(per, window)}" if of == "attempts" else _games_words(counts, window),
        overall,
        hottest,
        coldest,
        float((1 + (hot >= away.max() - 1e-9).sum()) / (1 + draws)),
        float((1 + (cold <= away.min() + 1e-9).sum()) / (1 + draws)),
        float(shares.max()),
        float(shares[[hottest, coldest]].max()),
        games.totals.conventions.most_unknown,
        how,
        draws,
        games.totals.notes_on(event, per),
        season,
        game_measured,
        rolling,
        float(np.quantile(hot, level)),
    )


def _window(
    window: int, of: str, counts: tuple[Wholes, Wholes], measured: float, name: str, event: str, per: str
) -> _Window:
    k, n = counts
    if isinstance(window, bool) or int(window) != window or window < 1:
        raise CountsError(f"window={window!r}: give a whole number from 1 up")
    if of not in ("games", "attempts"):
        raise CountsError(f"of={of!r}: give 'games' or 'attempts'")
    most = len(k) if of == "games" else int(n.sum())
    if window >= most:
        has = f"{name} has {most:,} {of.removesuffix('s') if most == 1 else of}"
        mend = "; give a shorter window=" if most > 1 else ""
        raise CountsError(f"{has}, so a window of {window:,} moves nowhere{mend}")
    if not 0 < k.sum() < measured:
        raise CountsError(
            f"{name} has {int(k.sum()):,} {event} in {measured:,.0f} {per_words(per, 2)}: a rate that never "
            "varies has no form"
        )
    return _Window(int(window), None) if of == "games" else _Window(None, int(window))


def _in_whole_numbers(measured: Floats) -> Wholes:
    """Round what was measured of each game so that all games together have as much as they had.

    Halves go up, all of them (a last bit less than a half is one): so a game of which all was measured keeps
    its own, and none gets more than it had.
    """
    return np.diff(np.floor(np.cumsum(measured) + 0.5 + 1e-9), prepend=0).astype(np.int64)


def _lucky(
    season: Season, measured: Wholes, how: Luck, draws: int, rng: np.random.Generator
) -> tuple[Wholes, ...]:
    """Return seasons of luck: what is counted by game, each of shape (draws, games)."""
    if how == "shuffled games":
        order = rng.permuted(np.tile(np.arange(len(measured)), (draws, 1)), axis=1)
        return tuple(each[order] for each in season)
    dealt = rng.multivariate_hypergeometric(measured, int(season[0].sum()), size=draws, method="marginals")
    return dealt, *(np.broadcast_to(each, dealt.shape) for each in season[1:])


def _distances(season: Season, window: _Window) -> Floats:
    """Return the distance of every window's rate from the season's own, in standard errors."""
    counts = [each.astype(float) for each in season]
    whole = [each.sum(axis=1, keepdims=True) for each in counts]
    rate = whole[0] / measured_part(*whole[1:])
    inside, *of_window = window(*counts)
    of = measured_part(*of_window)
    spread = np.sqrt(of * rate * (1 - rate))
    return np.asarray(np.divide(inside - rate * of, spread, out=np.zeros_like(inside), where=spread > 0))


def _extremes(season: Season, window: _Window) -> tuple[Floats, Floats]:
    away = _distances(season, window)
    return away.max(axis=1), away.min(axis=1)


def _in_hundred(chance: float) -> str:
    number = round(100 * chance)
    if number < 1:
        return "fewer than one in 100 seasons"
    return f"{number} in 100 seasons"


def _games_words(counts: Any, window: int) -> str:
    by = tuple(getattr(counts, "by", ()))
    noun = "game" if "game" in by or "date" in by else "season" if "season" in by else "row"
    return f"{window:,} {noun}{'s' if window > 1 else ''}"
