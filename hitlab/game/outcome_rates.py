"""How often each hitter's plate appearances end in each of nine ways, shrunk toward the league.

The nine probabilities are split into eight yes-or-no stages (a walk, else a hit by pitch, else a strikeout,
...); every stage is a rate of its own and is shrunk by ``shrink``, so that a strikeout rate, which shows
early, is believed sooner than a rate of triples. Multiplying the stages gives the nine again. Stages are
taken to be independent of each other from hitter to hitter: that hitters with many home runs also draw more
walks is not used.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import Counts
from hitlab.counting.events import EVENTS
from hitlab.counting.facts import Conventions
from hitlab.counting.rates import as_counts
from hitlab.counting.tallies import columns_of, tally
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.estimates.designs import average
from hitlab.estimates.posterior import Posterior
from hitlab.estimates.questions import questions
from hitlab.estimates.traits import beside_counts, taken_beside
from hitlab.game.outcomes import OUTCOMES
from hitlab.pitches.opening import doubts_of
from hitlab.results import Listing
from hitlab.wording import rate_text

__all__ = ["OUTCOME_COUNTS", "RESULTS_OF", "OutcomeRates", "outcome_counts", "shrink_outcomes"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

RESULTS_OF: dict[str, tuple[str, ...]] = {
    "strikeouts": ("strikeout",),
    "other_outs": ("out", "double play", "fielder's choice", "sacrifice fly"),
    "walks": ("walk",),
    "hit_by_pitches": ("hit by pitch",),
    "singles": ("single",),
    "doubles": ("double",),
    "triples": ("triple",),
    "home_runs": ("home run",),
    "reached_on_errors": ("error",),
}
"""Which of the schema's results each count is of."""

OUTCOME_COUNTS = tuple(RESULTS_OF)
"""Names of the nine counts, in the order of ``OUTCOMES``. Sacrifice bunts and catcher's interference are left
out: the first is a choice made for the spot, the second too rare to matter."""

_HARDLY = 0.10  # a stage is named where even the longest record weighs less than this against the league

_PLACE = {name: place for place, name in enumerate(OUTCOME_COUNTS)}
_OUT_IN_FIELD = ("other_outs", "reached_on_errors")
_EXTRA = ("doubles", "triples")
_HITS = ("singles", *_EXTRA)
_FIELDED = (*_HITS, *_OUT_IN_FIELD)
_STRUCK = ("home_runs", *_FIELDED)

# Each stage: its name, what it is a rate of, and what it is a rate over; both as sums of the nine counts.
_STAGES: tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...] = (
    ("walk", ("walks",), OUTCOME_COUNTS),
    ("hit by pitch", ("hit_by_pitches",), ("hit_by_pitches", "strikeouts", *_STRUCK)),
    ("strikeout", ("strikeouts",), ("strikeouts", *_STRUCK)),
    ("home run", ("home_runs",), _STRUCK),
    ("hit on a ball in the field", _HITS, _FIELDED),
    ("extra bases on a hit", _EXTRA, _HITS),
    ("triple among these", ("triples",), _EXTRA),
    ("error on a ball that was no hit", ("reached_on_errors",), _OUT_IN_FIELD),
)


def outcome_counts(
    pitches: Any,
    by: str | Sequence[str] = "hitter",
    *,
    where: nw.Expr | None = None,
    conventions: Conventions | None = None,
    trust: bool = False,
) -> Counts:
    """Tally a pitch table with the nine outcomes of a plate appearance added.

    Parameters
    ----------
    pitches, by, where, conventions, trust
        As in ``tally``.

    Returns
    -------
    Counts
        What ``tally`` gives, and the columns of ``OUTCOME_COUNTS``.

    Raises
    ------
    MissingColumnsError
        Where the table has no ``result``.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.game import outcome_counts
    >>> pitches = pd.DataFrame({"hitter": "Runa Kvalbakk", "outcome": ["in play", "whiff", "ball", "in play"],
    ...                         "result": ["single", "strikeout", "walk", "single"]})
    >>> outcome_counts(pitches).table()[["hitter", "singles", "strikeouts", "walks", "other_outs"]]
              hitter  singles  strikeouts  walks  other_outs
    0  Runa Kvalbakk        2           1      1           0
    """
    own = {
        name: reduce(or_, [nw.col("result") == result for result in results])
        for name, results in RESULTS_OF.items()
        if name not in EVENTS
    }
    if "result" not in columns_of(pitches, trust=trust):
        raise MissingColumnsError(
            "outcomes of plate appearances need the column result, and the table does not have it"
        )
    most = (conventions or Conventions()).most_contradicted
    doubts_of(pitches).refuse(["result"], most, "how plate appearances end")
    return tally(pitches, by, where=where, events=own, conventions=conventions, trust=trust)


@dataclass(frozen=True, slots=True)
class OutcomeRates(Listing):
    """Outcome probabilities of every hitter, with what is not known of them.

    Attributes
    ----------
    counts
        Where they came from; arrays follow its rows.
    ended
        Shape (hitters, 9): the nine counts.
    posteriors
        One a stage, what is known of everybody's rate; ``None`` where a stage never or always happens, which
        is then taken as it is.
    notes
        What a careful reader wants to know.
    follows
        Groups and numbers that the stages may follow; empty: all are shrunk toward the league.
    """

    counts: Counts
    ended: Wholes
    posteriors: tuple[Posterior | None, ...]
    notes: tuple[str, ...] = ()
    follows: tuple[str, ...] = ()

    @property
    def plate_appearances(self) -> Wholes:
        """Plate appearances that ended in one of the nine ways, by hitter."""
        return np.asarray(self.ended.sum(axis=1))

    @property
    def league(self) -> Floats:
        """The nine probabilities of everybody together, each plate appearance alike."""
        total = self.ended.sum(axis=0)
        return np.asarray(total / total.sum())

    @property
    def observed(self) -> Floats:
        """Shape (hitters, 9): the observed shares; missing without plate appearances."""
        some = np.maximum(self.plate_appearances, 1)[:, np.newaxis]
        return np.where(self.plate_appearances[:, np.newaxis] > 0, self.ended / some, np.nan)

    def mean(self) -> Floats:
        """Return the posterior means, shape (hitters, 9); independent stages make them exact products."""
        means = [
            known.mean() if known is not None else np.full(len(self.ended), self._constant(stage))
            for stage, known in enumerate(self.posteriors)
        ]
        return np.stack(_nine(means), axis=-1)

    def draws(self, places: NDArray[np.int64], size: int, rng: np.random.Generator) -> list[Floats]:
        """Return draws of some hitters' probabilities: nine arrays of shape (size, hitters)."""
        drawn = []
        for stage, known in enumerate(self.posteriors):
            if known is None:
                drawn.append(np.full((size, len(places)), self._constant(stage)))
            else:
                drawn.append(known.only(places).draws(size, rng))
        return _nine(drawn)

    def table(self) -> pd.DataFrame:
        """Return who, plate appearances, and the shrunk probability of each outcome."""
        frame = self.counts.identity.copy()
        frame["plate_appearances"] = self.plate_appearances
        frame[list(OUTCOMES)] = self.mean()
        return frame.reset_index(drop=True)

    def _constant(self, stage: int) -> float:
        k, n = _stage_counts(self.ended, stage)
        return float(k.sum() / n.sum()) if n.sum() else 0.0

    def __len__(self) -> int:
        return len(self.ended)

    @property
    def title(self) -> str:
        """What is shown, in words."""
        return f"How a plate appearance ends, shrunk in {len(_STAGES)} stages, {len(self):,} hitters"

    def table_for_people(self) -> pd.DataFrame:
        """Return the hitters with probabilities as rates are said."""
        shown = self.table()
        for outcome in OUTCOMES:
            shown[outcome] = [rate_text(value) for value in shown[outcome]]
        return shown


def shrink_outcomes(
    counts: Any, *, groups: str | None = None, covariates: Sequence[str] = (), traits: Any = None
) -> OutcomeRates:
    """Shrink the outcome probabilities of every hitter toward the league, stage by stage.

    Parameters
    ----------
    counts
        ``outcome_counts(pitches)``, or any table of counts with the columns of ``OUTCOME_COUNTS``.
    groups, covariates, traits
        Kinds of hitters, and numbers, that the stages may follow, as in :func:`~hitlab.shrink`; each stage
        weighs for itself whether it does.

    Returns
    -------
    OutcomeRates
        Nine probabilities a hitter that add up to one, with draws of what is not known of them.

    Raises
    ------
    MissingColumnsError, CountsError
        Where one of the nine counts is missing, or no plate appearance ended; where nothing has the groups
        or covariates.

    Examples
    --------
    Nine home runs against four in about as many plate appearances: less of a difference once luck is out:

    >>> import pandas as pd
    >>> from hitlab.game import OUTCOMES, shrink_outcomes
    >>> bench = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...     "strikeouts": [60, 90, 50], "other_outs": [140, 120, 170], "walks": [30, 20, 20],
    ...     "singles": [45, 50, 62], "doubles": [15, 25, 10], "home_runs": [9, 4, 6],
    ...     "triples": 0, "hit_by_pitches": 0, "reached_on_errors": 0})
    >>> rates = shrink_outcomes(bench)
    >>> place = OUTCOMES.index("home run")
    >>> rates.observed[:, place].round(3).tolist(), rates.mean()[:, place].round(3).tolist()
    ([0.03, 0.013, 0.019], [0.028, 0.017, 0.021])
    """
    table, beside = taken_beside(counts, groups, covariates, traits, OUTCOME_COUNTS)
    counts = as_counts(table)
    lacking = [name for name in OUTCOME_COUNTS if name not in counts.names]
    if lacking:
        raise MissingColumnsError(
            f"no count is called {lacking[0]!r}; outcome_counts(pitches) gives all of: "
            f"{', '.join(OUTCOME_COUNTS)}"
        )
    ended = np.stack([counts.column(name) for name in OUTCOME_COUNTS], axis=1)
    if not ended.sum():
        raise CountsError("no plate appearance with a result was counted, so there is nothing to fit")
    notes: list[str] = []
    kinds, numbers = beside_counts(counts, groups, covariates, beside, notes)
    posteriors: list[Posterior | None] = []
    never, weak, told = [], [], dict[str, list[str]]()
    for stage, (name, _, _) in enumerate(_STAGES):
        k, n = _stage_counts(ended, stage)
        if k.sum() in (0, n.sum()):
            posteriors.append(None)
            never.append(name)
            continue
        averaged = average(k, n, questions(n, "auto", kinds, numbers))
        posteriors.append(averaged.posterior(k, n))
        if averaged.own_weight(n).max() < _HARDLY:
            weak.append(name)
        for trait in averaged.telling:
            told.setdefault(trait, []).append(name)
    if never:
        notes.append(f"never or always, and so the same for everybody: {', '.join(never)}")
    if weak:
        notes.append(f"records hardly tell anybody apart in: {', '.join(weak)}")
    follows = (*([] if kinds is None else [kinds[0]]), *numbers)
    notes += [
        f"{trait} was found to tell something of: {', '.join(told[trait])}"
        if trait in told
        else f"{trait} was not found to tell anything of how plate appearances end"
        for trait in follows
    ]
    untold = counts.cannot_tell("plate_appearances")
    notes += [untold] if untold else []
    return OutcomeRates(counts, ended, tuple(posteriors), tuple(notes), follows)


def _stage_counts(ended: Wholes, stage: int) -> tuple[Wholes, Wholes]:
    _, of, over = _STAGES[stage]
    return ended[:, [_PLACE[n] for n in of]].sum(axis=1), ended[:, [_PLACE[n] for n in over]].sum(axis=1)


def _nine(stages: Sequence[Floats]) -> list[Floats]:
    """Multiply the eight stages into nine probabilities, in the order of ``OUTCOMES``."""
    walk, struck_by, strikeout, home_run, hit, extra, triple, error = stages
    rest = 1 - walk
    hit_by_pitch = rest * struck_by
    rest = rest - hit_by_pitch
    strikeouts = rest * strikeout
    rest = rest - strikeouts
    home_runs = rest * home_run
    rest = rest - home_runs
    hits = rest * hit
    extras = hits * extra
    triples = extras * triple
    missed = rest - hits
    errors = missed * error
    return [
        strikeouts,
        missed - errors,
        walk,
        hit_by_pitch,
        hits - extras,
        extras - triples,
        triples,
        home_runs,
        errors,
    ]
