"""How much hitters' true rates move over a season: form from stretch to stretch, with everybody in view.

The model: a hitter has a usual level, and in each stretch of games (12 unless said otherwise) a form that
shifts the log odds of his rate; forms are independent draws from a law around 0, one for all hitters: a
normal law, or, at even money, one that is moved up or down by the size of a streak in a few stretches. Usual
levels follow a normal law. None of these laws' numbers is known, and all are integrated over
on a grid, so the answer is the same every time. Many hitters together tell how much form there is at all; one
hitter alone cannot, and then the prior speaks.

What is assumed of form beforehand: its standard deviation half-normal with .25 (up to .32 beside streaks). At
.25 one stretch in three has odds more than 1.28 times up or down: .140 turns into .174 or .113. Streaks are
.05, .1 or .2 of the stretches and move the log odds by .3 or .5 up or down, all as likely. Flat on mean and
spread of the usual levels.

Attempts of one game that are alike make a stretch's record less worth than its length; how much is
estimated (``hitlab.over_time.alike``), and counts are divided by it.

When it fails: form that lasts through several stretches, or begins in the middle of one, makes the usual
level less certain than it is taken to be; a change that everybody shares (another ball in July) is taken for
form. "Steady" is therefore held against the season's own rate, not against the usual level: how far
stretches lie from each other is what a season shows. Its verdicts were right as often as stated within .03
under form by stretches, fading, drifting, in streaks and none; under streaks in one of seven dozens of games,
the chances that stay open were too high by .09 (``tests/reference/measured.md``).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.events import per_words, rate_words
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.errors import CountsError
from hitlab.over_time.alike import design_effects, games_alike
from hitlab.over_time.stretches import ByGame, by_game, cut, measured_part
from hitlab.results import Listing, Note, Part
from hitlab.wording import level_words, rate_text

__all__ = ["STRETCH", "FormFit", "fit_form"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

STRETCH = 12
"""Games of a stretch: about two weeks. Chosen beforehand, not by looking at any season."""

_STEP = 0.04  # of the log odds
_LEVELS = _STEP * np.arange(-75, 76)  # usual levels, from the league's log odds
_SHIFTED = _STEP * np.arange(-113, 114)  # levels with form
_SPREADS: Floats = 0.02 * np.arange(36.0)
_PRIOR_SPREAD = 0.25
_STREAK_SHARES = (0.05, 0.1, 0.2)  # of the stretches
_STREAKS = (0.3, 0.5)  # up or down, in log odds
_BESIDE_STREAKS: Floats = _SPREADS[:17:2]  # of form outside streaks: coarser, for streaks blur it
_MEANS, _LEVEL_SPREADS = (
    15,
    np.array([0.03, 0.06, 0.09, 0.12, 0.16, 0.2, 0.25, 0.3, 0.36, 0.43, 0.52, 0.65, 0.8, 1]),
)
_FEW = 20
_MATTERS = 1.1  # of a variance: intervals 1.05 times as wide
_TINY, _NEGLIGIBLE = 1e-300, 1e-7
_DRAWS, _SEED = 8192, 11


@lru_cache(maxsize=1)
def _form_laws() -> tuple[Floats, Floats, Floats]:
    """Return the laws of form that are weighed: their kernels, standard deviations and prior weights.

    A kernel is the law of the level with form, given the usual one; together of shape (laws, shifted,
    levels).
    """
    normal = _normal_kernels(_SPREADS)
    kernels, deviations, priors = [normal], [_SPREADS], [0.5 * _prior(_SPREADS)]
    usual = normal[:17:2]
    for streak in _STREAKS:
        within = (_normal_kernels(_BESIDE_STREAKS, streak) + _normal_kernels(_BESIDE_STREAKS, -streak)) / 2
        for share in _STREAK_SHARES:
            kernels.append((1 - share) * usual + share * within)
            deviations.append(np.sqrt(_BESIDE_STREAKS**2 + share * streak**2))
            priors.append(0.5 * _prior(_BESIDE_STREAKS) / (len(_STREAKS) * len(_STREAK_SHARES)))
    return np.concatenate(kernels), np.concatenate(deviations), np.concatenate(priors)


def _normal_kernels(spreads: Floats, centre: float = 0.0) -> Floats:
    away = _SHIFTED[:, np.newaxis] - _LEVELS - centre
    # Each grid point stands for its cell: exact for spreads that are small against the step.
    from scipy.special import ndtr

    spread = np.maximum(spreads, 1e-9)[:, np.newaxis, np.newaxis]
    return np.asarray(ndtr((away + _STEP / 2) / spread) - ndtr((away - _STEP / 2) / spread))


def _prior(spreads: Floats) -> Floats:
    density = np.exp(-0.5 * (spreads / _PRIOR_SPREAD) ** 2)
    density[0] /= 2  # half a cell
    return np.asarray(density / density.sum())


@dataclass(frozen=True, slots=True)
class FormFit(Listing):
    """Form of every hitter, stretch by stretch.

    Attributes
    ----------
    games
        The counts in order of time.
    event, per, stretch, level
        The rate, games of a stretch, level of the intervals.
    hitter, events, exposure, first, last
        For each stretch: row of the hitter, counts, and its first and last row of ``games``.
    measured, unknown, unknown_share
        For each stretch the exposure that its events stand for, without the share of it that was not
        measured; contact of unknown hardness; and its share of all contact.
    spread, spread_low, spread_high
        Posterior mean and interval of the form's standard deviation, in log odds.
    centre
        Log odds of the rate of all hitters together, from which levels and form are measured.
    games_alike, design_effect
        Correlation of two attempts of one game beyond their stretch's form (``hitlab.over_time.alike``), and
        what it does to a stretch's variance on average; counts are divided by it.
    """

    games: ByGame
    event: str
    per: str
    stretch: int
    level: float
    hitter: Wholes
    events: Wholes
    exposure: Wholes
    first: Wholes
    last: Wholes
    measured: Floats
    unknown: Wholes
    unknown_share: Floats
    spread: float
    spread_low: float
    spread_high: float
    games_alike: float
    design_effect: float
    centre: float
    _likelihood: Floats  # (stretches, shifted): each with its largest value at 1
    _logs: Floats  # its logarithm, where that is too small for a number
    _effects: Floats  # (stretches,): by what counts are divided
    _moves: Floats  # (shifted, laws of form that matter, levels)
    _weights: Floats  # (laws of form that matter, laws of levels)
    _laws: Floats  # (laws of levels, levels)

    def of(self, place: int) -> slice:
        """Return where the stretches of one hitter stand."""
        return slice(*(int(at) for at in np.searchsorted(self.hitter, [place, place + 1])))

    def _usual(self, likelihood: Floats, seen: Floats | None = None) -> tuple[Floats, Floats]:
        """Return the posterior of (law of form, usual level), and the evidence (stretches, laws, levels).

        Parameters
        ----------
        likelihood
            Of one hitter's stretches.
        seen
            The same as the laws' weights know them, where that was another record.
        """
        each = self._moved(likelihood, self._moves)
        own = _together(each)  # (laws of form, levels)
        known = own if seen is None else _together(self._moved(seen, self._moves))
        evidence = known @ self._laws.T  # (laws of form, laws of levels)
        joint = own * ((self._weights / np.maximum(evidence, _TINY)) @ self._laws)
        return joint / joint.sum(), each

    def _moved(self, likelihood: Floats, moves: Floats) -> Floats:
        """Return the evidence of stretches for each (law of form, usual level)."""
        flat = likelihood @ moves.reshape(len(moves), -1)
        return flat.reshape(len(likelihood), *moves.shape[1:])

    def _chance_above(
        self, likelihood: Floats, stretch: int, factor: float, seen: Floats | None = None
    ) -> float:
        """Return the chance that the odds in a stretch are more than ``factor`` times the usual ones."""
        joint, each = self._usual(likelihood, seen)
        above = self._moves * _share_above(np.log(factor))[:, np.newaxis]
        part = self._moved(likelihood[[stretch]], above) / np.maximum(each[[stretch]], _TINY)
        return float((joint * part[0]).sum())

    def chance_above(self, place: int, factor: float, stretch: int = -1) -> float:
        """Return the chance that his odds in a stretch are more than ``factor`` times his usual ones."""
        return self._chance_above(self._likelihood[self.of(place)], stretch, factor)

    def least_above(self, place: int, factor: float, chance: float) -> int | None:
        """Return how many events in his last stretch would have raised ``chance_above`` to a chance.

        Parameters
        ----------
        place, factor
            As in :meth:`chance_above`; his other stretches stay as they are, and so does everybody else.
        chance
            From 0 to 1.

        Returns
        -------
        int or None
            From 0 to what was measured of the stretch; ``None`` where not even all of it would do.
        """
        seen, last = self._likelihood[self.of(place)], self.of(place).stop - 1
        mine = seen.copy()

        def reached(events: int) -> bool:
            log = self._logs[last] + (events - self.events[last]) / self._effects[last] * _SHIFTED
            mine[-1] = np.exp(log - log.max())
            return self._chance_above(mine, -1, factor, seen) >= chance

        low, high = 0, round(float(self.measured[last]))
        if not reached(high):
            return None
        while low < high:
            middle = (low + high) // 2
            low, high = (low, middle) if reached(middle) else (middle + 1, high)
        return low

    def chance_steady(self, place: int, factor: float, since: str | None = None) -> float:
        """Return the chance that his odds always stayed within ``factor`` of those of all his games together.

        With ``since`` only stretches that begin then or later are looked at; the games together are all of
        them. From draws, the same ones every time: the standard error is .006 or less.
        """
        rates = self._drawn(place)
        share = self.exposure[self.of(place)] / self.exposure[self.of(place)].sum()
        season, each = share @ rates, rates[self.since(place, since)]
        away = np.log(each / (1 - each)) - np.log(season / (1 - season))
        return float((np.abs(away) < np.log(factor)).all(axis=0).mean())

    def _drawn(self, place: int) -> Floats:
        """Draw a hitter's true rates in his stretches together: shape (stretches, draws)."""
        mine, rng = self._likelihood[self.of(place)], np.random.default_rng(_SEED)
        joint, _ = self._usual(mine)
        # Law of form and usual level: to each its share of the draws.
        even = (np.arange(_DRAWS) + 0.5) / _DRAWS
        chosen = np.searchsorted(np.cumsum(joint), even).clip(max=joint.size - 1)
        cells, column = np.unique(chosen, return_inverse=True)
        moves = self._moves.reshape(len(_SHIFTED), -1)[:, cells]
        drawn = np.empty((len(mine), _DRAWS))
        for stretch, likelihood in enumerate(mine):
            below = np.cumsum(likelihood[:, np.newaxis] * moves, axis=0)
            below /= below[-1]
            # All columns behind one another, each from its number to the next: one search for all draws.
            at = np.searchsorted((below + np.arange(len(cells))).T.ravel(), column + rng.random(_DRAWS))
            shifted = np.minimum(at - column * len(_SHIFTED), len(_SHIFTED) - 1)
            drawn[stretch] = _SHIFTED[shifted] + _STEP * (rng.random(_DRAWS) - 0.5)
        return np.asarray(_rate(self.centre + drawn))

    def since(self, place: int, since: str | None) -> Wholes:
        """Return the numbers of a hitter's stretches that begin at a time or later.

        Raises
        ------
        CountsError
            Where ``since`` is not a day written as year-month-day, or the games have no dates.
        """
        if since is not None:
            for text, what in ((since, f"since={since!r}"), (str(self.games.when[0]), "the games' own mark")):
                if not _is_day(text):
                    raise CountsError(
                        f"{what} is not a day: write since as year-month-day, such as 2031-05-01, and "
                        'count by ["hitter", "game", "date"]'
                    )
        begins = self.games.when[self.first[self.of(place)]]
        return np.flatnonzero([since is None or str(when) >= since for when in begins])

    def usual_rate(self, place: int) -> float:
        """Return the posterior mean of a hitter's usual rate."""
        joint, _ = self._usual(self._likelihood[self.of(place)])
        return float(joint.sum(axis=0) @ _rate(self.centre + _LEVELS))

    def stretches(self, place: int) -> pd.DataFrame:
        """Return a hitter's stretches, one row each.

        Columns: ``from``, ``to`` (times), ``games``, the event, the denominator, ``rate``, ``shrunk``,
        ``low``, ``high`` (mean and posterior interval of the true rate in that stretch); where hardness is
        unknown for some of his contact also ``unknown``, how much. The rate is of what was measured, missing
        where nothing was.
        """
        joint, each = self._usual(self._likelihood[self.of(place)])
        mine, rates = self.of(place), _rate(self.centre + _SHIFTED)
        given = joint / np.maximum(each, _TINY)
        moved = given.reshape(len(given), -1) @ self._moves.reshape(len(_SHIFTED), -1).T
        rows = []
        for number, at in enumerate(range(mine.start, mine.stop)):
            posterior = self._likelihood[at] * moved[number]
            posterior /= posterior.sum()
            low, high = _ends(posterior, self.level)
            n = float(self.measured[at])
            rows.append(
                {
                    "from": self.games.when[self.first[at]],
                    "to": self.games.when[self.last[at]],
                    "games": int(self.last[at] - self.first[at] + 1),
                    self.event: int(self.events[at]),
                    self.per: int(self.exposure[at]),
                    **({"unknown": int(self.unknown[at])} if self.unknown[mine].any() else {}),
                    "rate": self.events[at] / n if n else np.nan,
                    "shrunk": float(posterior @ rates),
                    "low": _rate(self.centre + low),
                    "high": _rate(self.centre + high),
                }
            )
        return pd.DataFrame(rows)

    def table(self) -> pd.DataFrame:
        """Return every hitter's last stretch, with columns as in ``stretches``, and the ``usual`` rate."""
        identity = self.games.totals.identity
        rows = []
        for place in np.unique(self.hitter):
            last = self.stretches(int(place)).iloc[-1]
            rows.append({**identity.iloc[place], **last, "usual": self.usual_rate(int(place))})
        return pd.DataFrame(rows)

    @property
    def explanation(self) -> str:
        """How much form there is, in one sentence."""
        name = rate_words(self.event, self.per)
        mean = float(self.events.sum() / self.measured.sum())
        up = _rate(np.log(mean / (1 - mean)) + self.spread)
        return (
            f"{name}: from one stretch of {self.stretch} games to another a hitter's log odds vary with a "
            f"standard deviation of about {self.spread:.2f} ({level_words(self.level)} from "
            f"{self.spread_low:.2f} to {self.spread_high:.2f}); one such step takes a rate of "
            f"{rate_text(mean)} to {rate_text(up)}"
        )

    @property
    def notes(self) -> tuple[str, ...]:
        """What a careful reader wants to know."""
        notes = []
        if self.design_effect >= _MATTERS:
            notes.append(
                f"{per_words(self.per, 2)} of one game are alike (correlation {self.games_alike:.3f}): the "
                f"records of stretches count as if they were {self.design_effect:.2f} times shorter"
            )
        hitters = len(np.unique(self.hitter))
        if hitters >= _FEW:
            return tuple(notes)
        return (
            *notes,
            f"{hitters} hitters tell little of how much form varies, so that the assumed law of it weighs "
            f"much (half-normal, standard deviation {_PRIOR_SPREAD} of the log odds)",
        )

    @property
    def title(self) -> str:
        """The explanation."""
        return self.explanation

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of: no table, which takes a while for many hitters."""
        return [self.title, *(Note(note) for note in self.notes)]

    def __len__(self) -> int:
        return len(np.unique(self.hitter))


def fit_form(
    counts: Any,
    event: str = "hard",
    per: str = "swings",
    *,
    stretch: int = STRETCH,
    level: float = DEFAULT_LEVEL,
    faced: tuple[Floats, Floats] | None = None,
) -> FormFit:
    """Fit how much hitters' true rates move from stretch to stretch.

    Parameters
    ----------
    counts
        Counts by hitter and game, and date for the order: ``tally(pitches, by=["hitter", "game", "date"])``.
    event, per
        The rate.
    stretch
        Games of a stretch, counted back from each hitter's last game.
    level
        Level of the intervals.
    faced
        By how much what a hitter faced in a stretch raises his log odds against what he faced in his others,
        and the standard error of that: one entry a stretch, in the order of a fit without it. It is then no
        part of form.

    Returns
    -------
    FormFit
        How much form varies, with its interval, and each hitter's usual rate and stretches.

    Raises
    ------
    CountsError
        Where the counts are not by hitter and game, or the event never or always happened.
    MissingColumnsError
        As in ``rate``.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.over_time import fit_form
    >>> games = pd.DataFrame({"hitter": ["Runa Kvalbakk"] * 24 + ["Nils Haxditch"] * 24,
    ...                       "date": [f"2031-05-{day:02d}" for day in range(1, 25)] * 2,
    ...                       "swings": 5, "hard": [1] * 18 + [2] * 6 + [1] * 24})
    >>> fit = fit_form(games, "hard", "swings", stretch=6)
    >>> round(fit.spread, 2), (round(fit.spread_low, 2), round(fit.spread_high, 2))
    (0.18, (0.03, 0.35))
    """
    if isinstance(stretch, bool) or int(stretch) != stretch or stretch < 1:
        raise CountsError(f"stretch={stretch!r}: give a whole number of games from 1 up")
    if not 0 < level < 1:
        raise CountsError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    games = by_game(counts, event, per)
    first = _starts(games, int(stretch))
    last = np.append(first[1:], len(games.hitter)) - 1
    events, exposure, unknown, contact = (
        np.add.reduceat(v, first) for v in (games.events, games.exposure, games.unknown, games.contact)
    )
    measured = measured_part(exposure, unknown, contact)
    total, of = int(events.sum()), float(measured.sum())
    if not 0 < total < of:
        raise CountsError(
            f"{total:,} {event} in {of:,.0f} {per_words(per, round(of))}: a rate that never varies has no "
            "form"
        )
    hitter = games.hitter[first]
    centre = float(np.log(total / (of - total)))
    odds = centre + _SHIFTED
    alike = games_alike(games, first)
    effect = design_effects(games, first, alike)
    shifted = odds[np.newaxis]
    if faced is not None:
        by, error = (np.asarray(each, dtype=float) for each in faced)
        if by.shape != events.shape or error.shape != events.shape:
            raise CountsError(f"faced: give one entry for each of the {len(events):,} stretches")
        shifted = odds + by[:, np.newaxis]
        # What is not known of it makes a stretch worth less: as if it were shorter.
        rate = _rate(centre)
        effect = effect * (1 + measured / effect * rate * (1 - rate) * error**2)
    k, n = (events / effect)[:, np.newaxis], (measured / effect)[:, np.newaxis]
    log_likelihood = k * shifted - n * np.logaddexp(0, shifted)
    likelihood = np.exp(log_likelihood - log_likelihood.max(axis=1, keepdims=True))
    starts = np.flatnonzero(np.diff(hitter, prepend=-1))
    laws = _level_laws(len(starts))
    kernels, deviations, prior = _form_laws()
    logs = np.log(np.maximum(likelihood @ kernels, _TINY))  # (laws of form, stretches, levels)
    logs = np.add.reduceat(logs, starts, axis=1)
    top = logs.max(axis=2, keepdims=True)
    evidence = (np.log(np.exp(logs - top) @ laws.T + _TINY) + top).sum(axis=1)
    # Flat on the usual levels' spread: each of the uneven grid's spreads stands for its cell.
    cells = np.tile(np.gradient(_LEVEL_SPREADS), _MEANS)
    weights = np.exp(evidence - evidence.max()) * np.outer(prior, cells)
    weights /= weights.sum()
    kept = np.flatnonzero(weights.sum(axis=1) > _NEGLIGIBLE)
    by_law = weights.sum(axis=1)
    order = np.argsort(deviations, kind="stable")
    between = (deviations[order][1:] + deviations[order][:-1]) / 2
    edges = np.concatenate([[0.0], between, [deviations.max()]])
    tail = (1 - level) / 2
    low, high = np.interp([tail, 1 - tail], np.concatenate([[0.0], np.cumsum(by_law[order])]), edges)
    return FormFit(
        games,
        event,
        per,
        int(stretch),
        level,
        hitter,
        events,
        exposure,
        first,
        last,
        measured,
        unknown,
        np.divide(unknown, contact, out=np.zeros(len(first)), where=contact > 0),
        float(by_law @ deviations),
        float(low),
        float(high),
        alike,
        float(measured @ effect / measured.sum()),
        centre,
        likelihood,
        log_likelihood,
        np.asarray(effect, dtype=float),
        np.ascontiguousarray(kernels[kept].transpose(1, 0, 2)),
        weights[kept] / weights[kept].sum(),
        laws,
    )


def _together(each: Floats) -> Floats:
    """Return the evidence of all stretches together, with its largest value at 1."""
    logs = np.log(np.maximum(each, _TINY)).sum(axis=0)
    return np.asarray(np.exp(logs - logs.max()))


def _starts(games: ByGame, stretch: int) -> Wholes:
    """Return the row of the first game of every stretch."""
    sizes = np.bincount(games.hitter)
    numbers = np.concatenate([cut(int(size), stretch) for size in sizes])
    return np.flatnonzero((np.diff(numbers, prepend=-1) != 0) | (np.diff(games.hitter, prepend=-1) != 0))


def _level_laws(hitters: int) -> Floats:
    """Return normal laws of the usual level on the grid, one a pair of mean and spread."""
    means = np.linspace(-1, 1, _MEANS) * 2 / np.sqrt(hitters)
    mean, spread = (g.ravel()[:, np.newaxis] for g in np.meshgrid(means, _LEVEL_SPREADS, indexing="ij"))
    law = np.exp(-0.5 * ((_LEVELS - mean) / spread) ** 2)
    law /= law.sum(axis=1, keepdims=True)
    return np.asarray(law)


def _share_above(bound: float) -> Floats:
    """Return for (shifted, level) the share of the shift's cell that is above a bound."""
    away = _SHIFTED[:, np.newaxis] - _LEVELS
    return np.asarray(np.clip((away - bound) / _STEP + 0.5, 0, 1))


def _rate(log_odds: Any) -> Any:
    return 1 / (1 + np.exp(-log_odds))


def _ends(posterior: Floats, level: float) -> Floats:
    """Return the equal-tailed ends, each grid point's mass spread over its cell."""
    edges = np.append(_SHIFTED - _STEP / 2, _SHIFTED[-1] + _STEP / 2)
    chances = np.array([(1 - level) / 2, (1 + level) / 2])
    return np.asarray(np.interp(chances, np.concatenate([[0.0], np.cumsum(posterior)]), edges))


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text[:10])
    except ValueError:
        return False
    return True
