"""Whom hitters faced: rates against average pitching in an average park.

Schedules are seldom even. A hitter's record tells of him and of the pitchers whom he happened to meet; here
the two are told apart (``hitlab.estimates.crossed``), his record is turned into the one that says as much
about him against the whole league's pitching, and that one is shrunk as any other
(``hitlab.estimates.shrinkage``). An adjusted rate is the one that would be expected of him had he met what
the whole league met, each pitcher, staff and park as often as the league did: where the schedule is even it
is his rate, and nothing changes.

What is told apart, as far as the table has the columns: pitchers (``pitcher``), the pitching staffs of their
clubs (the club that does not bat: ``game`` and ``club``), and parks (that of the club that bats in the bottom
half: ``game``, ``club`` and ``half``; a game on neutral ground is taken to be at that club's).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import Counts, pair
from hitlab.counting.events import rate_words
from hitlab.counting.facts import Conventions
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.counting.kept_counts import kept_counts
from hitlab.counting.own_events import Pitches
from hitlab.counting.summing import Pitched, looked_up
from hitlab.counting.tallies import tally
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.estimates.crossed import Crossed, Drawn, Mode, fit_crossed, fit_mode, solved
from hitlab.estimates.ranking import usual_minimum
from hitlab.estimates.shrinkage import Fit, shrink
from hitlab.estimates.threads import one_thread
from hitlab.estimates.top_places import chance_of_top
from hitlab.pitches.opening import doubts_of, frame_of
from hitlab.results import Listing
from hitlab.wording import level_words, rate_text, signed_text

__all__ = [
    "ALSO",
    "CROSSED_KINDS",
    "MATTERS",
    "Faced",
    "Meetings",
    "Unequal",
    "adjust_for_faced",
    "faced_columns",
    "faced_words",
    "meetings",
    "meetings_told",
    "unequal",
    "unequal_in_parts",
]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

CROSSED_KINDS = {
    "pitcher": "pitchers",
    "staff": "pitching staffs",
    "park": "parks",
    "hands": "same hand or other hand",
    "pitch_kind": "kinds of pitch",
}
"""What a hitter may face, by name, and in words."""

ALSO = {"hands": ("hitter_side", "pitcher_hand"), "pitch_kind": ("pitch_kind",)}
"""What is told apart only where it is asked for, and the columns that it needs."""

MATTERS = 0.20
"""From which part of their errors on the difference of what hitters faced matters: by so much it would move
their shrunk rates, root mean square over those with the usual minimum. Left out, it makes the error larger by
a fiftieth. Set beforehand."""

_MATTERS_FOR_ONE = 0.60
"""The same for whoever it shifts most: left out, it makes his error larger by a sixth."""

_DRAWS = 64


@dataclass(frozen=True, slots=True)
class Meetings:
    """Who met what: the crossed cells of one rate, and what they are called.

    Attributes
    ----------
    cells
        The hitters in the order of ``counts``.
    kinds
        Names of what is told apart: keys of ``CROSSED_KINDS``.
    names
        For each kind what it is called, by level.
    counts
        By hitter.
    part
        Shape (cells,): the part of the record that a cell is of; ``None`` where there are no parts.
    """

    cells: Crossed
    kinds: tuple[str, ...]
    names: tuple[tuple[str, ...], ...]
    counts: Counts
    part: Wholes | None = None

    @property
    def words(self) -> str:
        """What is told apart, with how many there are: ``120 pitchers, 10 pitching staffs and 10 parks``."""
        told = [f"{n:,} {CROSSED_KINDS[kind]}" for kind, n in zip(self.kinds, self.cells.sizes, strict=True)]
        return told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"


@dataclass(frozen=True, slots=True)
class Unequal:
    """By how much what hitters faced differs, at the likeliest standard deviations.

    Attributes
    ----------
    log_odds
        Shape (hitters,): mean effect that a hitter faced, on the log odds, against the league's mean.
    error
        Of these, with the effects' own doubt.
    """

    log_odds: Floats
    error: Floats

    @property
    def size(self) -> Floats:
        """Root of the mean square: what leaving it out is expected to cost on the log odds."""
        return np.sqrt(self.log_odds**2 + self.error**2)

    def matters(self, fit: Fit) -> bool:
        """Say whether it is so large against the errors of the rates that it has to be allowed for."""
        there = fit.exposure >= usual_minimum(fit.exposure)
        rate = fit.posterior.mean()
        error = fit.posterior.spread() / (rate * (1 - rate))
        # A record moves the estimate by no more than its own weight in it.
        part = (self.size * fit.data["own_weight"].to_numpy(float) / error)[there]
        return bool(np.sqrt((part**2).mean()) >= MATTERS or part.max() >= _MATTERS_FOR_ONE)


@dataclass(frozen=True, slots=True)
class Faced(Listing):
    """Rates against average pitching in an average park.

    Attributes
    ----------
    data
        One row a hitter: who it is, the event's count, the exposure, ``rate`` (observed), ``adjusted``
        (observed, as it would be expected against what the whole league faced), ``shrunk``, ``low``, ``high``
        (posterior mean and interval of the rate against that), ``chance_best`` (among those with ``minimum``,
        missing for others), ``faced_log_odds``, ``faced_error`` (how much more often it happens against
        what he faced than against what the league did, on the log odds, and its standard error),
        ``faced_rate`` (the same as a difference of rates).
    fit
        The adjusted rates as ``shrink`` gives them, for ranks and chances.
    deviations
        One row a kind of thing faced, hitters first: ``kind``, ``levels`` (how many), ``deviation``
        (posterior mean of the standard deviation on the log odds), ``low``, ``high``.
    effects
        One row a thing faced: ``kind``, ``name``, ``effect`` (on the log odds, posterior mean; positive is
        more often), ``error``.
    drawn
        The draws behind it.
    told
        What was told apart, in words.
    minimum
        Fewest exposures to be compared for the best.
    notes
        What a careful reader wants to know.
    """

    data: pd.DataFrame
    fit: Fit
    deviations: pd.DataFrame
    effects: pd.DataFrame
    drawn: Drawn
    told: str
    minimum: int
    notes: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """What was adjusted for, and by how much what was faced differs."""
        fit = self.fit
        name = rate_words(fit.event, fit.per)
        apart = faced_words(self.data["faced_rate"].to_numpy(float)[fit.exposure >= self.minimum])
        return (
            f"{len(self.data):,} rates of {name} against what the whole league faced, told apart by "
            f"{self.told}; what hitters with at least {self.minimum:,} faced {apart}; "
            f"{level_words(fit.level)} posterior intervals"
        )

    def log_odds(self) -> tuple[Floats, Floats]:
        """Return mean and covariance of the hitters' rates on the log odds, shapes (n,) and (n, n).

        What hitters share (the pitchers whom they met, the league's law) makes them covary.
        """
        return self.fit.posterior.log_odds()

    def table_for_people(self) -> pd.DataFrame:
        """Return the hitters with the highest adjusted rates first, rates as they are said."""
        shown = self.data.sort_values("shrunk", ascending=False, kind="stable")
        for name in ("rate", "adjusted", "shrunk", "low", "high"):
            shown[name] = [rate_text(value) for value in shown[name]]
        shown["chance_best"] = ["" if np.isnan(x) else f"{x:.2f}" for x in shown["chance_best"]]
        for name in ("faced_log_odds", "faced_rate"):
            shown[name] = [signed_text(value) for value in shown[name]]
        shown["faced_error"] = [f"{value:.3f}" for value in shown["faced_error"]]
        return shown


def adjust_for_faced(
    pitches_or_counts: Any,
    event: str = "hard",
    per: str = "swings",
    *,
    also: Sequence[str] = (),
    where: Pitches | None = None,
    conventions: Conventions | None = None,
    minimum: int | None = None,
    level: float = DEFAULT_LEVEL,
    **shrinking: Any,
) -> Faced:
    """Adjust every hitter's rate for the pitchers, staffs and parks that he faced.

    Parameters
    ----------
    pitches_or_counts
        A pitch table that names pitchers, as ``tally`` takes it; or counts by ``hitter`` and by any of
        ``pitcher``, ``staff``, ``park``, ``hands`` and ``pitch_kind``: one row a meeting.
    event, per
        Names of two counts, such as ``"hard"`` and ``"swings"``.
    also
        What else is told apart where the table has the columns: ``"hands"`` (pitcher's hand on the hitter's
        side or not) and ``"pitch_kind"`` (the mix of pitches that he was thrown).
    where
        Only these pitches are counted, as in ``tally``.
    conventions
        How the debatable cases are counted.
    minimum
        Fewest exposures to be compared for the best; a quarter of the largest by default.
    level
        Level of the intervals.
    shrinking
        Whatever else ``shrink`` takes: ``groups``, ``covariates``, ``earlier``, ``prior``, ...

    Returns
    -------
    Faced
        One row a hitter: observed and adjusted rate, shrunk rate with its interval, chance of best, and
        how much what he faced differs from what the league did.

    Raises
    ------
    MissingColumnsError
        Where nothing that was faced is named.
    CountsError
        Where the rate is none, or nothing was counted.

    Examples
    --------
    >>> import hitlab
    >>> from hitlab.estimates import adjust_for_faced
    >>> faced = adjust_for_faced(hitlab.demo_season(), "whiffs", "swings")
    >>> faced.told
    '120 pitchers, 10 pitching staffs and 10 parks'
    >>> regulars = faced.data[faced.data["swings"] >= faced.minimum]
    >>> bool(regulars["faced_rate"].abs().max() < 0.01)
    True
    """
    if isinstance(also, str) or [name for name in also if name not in ALSO]:
        raise CountsError(f"also={also!r}: give a list of {' and '.join(map(repr, ALSO))}")
    met = _met(pitches_or_counts, event, per, also, where, conventions)
    drawn = fit_crossed(met.cells, _DRAWS)
    fit = shrink(met.counts, event, per, level=level, faced=drawn, **shrinking)
    least = usual_minimum(fit.exposure) if minimum is None else max(int(minimum), 1)
    compared = np.flatnonzero(fit.exposure >= least)
    if not len(compared):
        raise CountsError(f"nobody has at least {least:,}; lower minimum=")
    chances = np.full(len(fit.data), np.nan)
    chances[compared] = chance_of_top(fit.posterior.only(compared), 1)
    data = fit.data[[*met.counts.identity.columns, event, per, "rate"]].copy()
    record = drawn.mean_of(drawn.exposure)
    data["adjusted"] = np.divide(
        drawn.mean_of(drawn.events), record, out=np.full(len(record), np.nan), where=record > 0
    )
    for name in ("shrunk", "low", "high"):
        data[name] = fit.data[name]
    data["chance_best"] = chances
    data["faced_log_odds"] = drawn.mean_of(drawn.log_odds)
    data["faced_error"] = drawn.error_of(drawn.log_odds)
    data["faced_rate"] = drawn.mean_of(drawn.rate)
    notes = [*fit.notes]
    if apart := _apart(met.cells):
        notes.append(apart)
    return Faced(
        data.reset_index(drop=True),
        fit,
        _deviations(met, drawn, level),
        _effects(met, drawn),
        drawn,
        met.words,
        least,
        tuple(notes),
    )


def faced_words(difference: Floats) -> str:
    """Say by how much what hitters faced differs, as rates: the middle nine tenths of them."""
    if len(difference) < 2:
        return f"makes a difference of {signed_text(float(difference.sum()))}"
    low, high = np.quantile(difference, [0.05, 0.95])
    ends = f"from {signed_text(float(low))} to {signed_text(float(high))}"
    return f"makes a difference {ends} (nine tenths of them)"


def faced_columns(columns: frozenset[str] | set[str], also: Sequence[str] = ()) -> list[str]:
    """Return the columns, beside the hitter, that pitches are counted by to know what was faced.

    Empty where no pitcher and no club of the other side is named.

    Parameters
    ----------
    columns
        The pitch table's.
    also
        Keys of ``ALSO``.
    """
    who = [name for name in ("pitcher_id", "pitcher") if name in columns][:1]
    game = ["game"] if "game" in columns else []
    if not who and not {"game", "club"} <= columns:
        return []
    more = [name for kind in also for name in ALSO[kind]]
    absent = [name for name in more if name not in columns]
    if absent:
        raise MissingColumnsError(f"also= needs the column {absent[0]}, which the pitch table does not have")
    # Without a pitcher, one club bats and the other pitches: told by the hitter's club of that game.
    return list(dict.fromkeys([*game, *(who or ["club"]), *more]))


def meetings(
    counts: Counts,
    pitches: Any,
    event: str,
    per: str,
    also: Sequence[str] = (),
    part: Wholes | None = None,
) -> Meetings | None:
    """Lay out who met what.

    Parameters
    ----------
    counts
        By hitter and :func:`faced_columns`.
    pitches
        What they were counted from; looked at for the clubs of each game. ``None`` for a table that has
        ``staff`` and ``park`` itself.
    event, per
        The rate.
    also
        Keys of ``ALSO``.
    part
        For each row of ``counts`` the part of the record that it is of: whole numbers.

    Returns
    -------
    Meetings, or None
        ``None`` where there are not two of anything.
    """
    key = "hitter_id" if "hitter_id" in counts.by else "hitter"
    totals = counts.summed((key,))
    code = pd.factorize(counts.data[key], use_na_sentinel=False)[0].astype(np.int64)
    each, whole = pair(counts, event, per), pair(totals, event, per)
    # Of what was not measured, each meeting gets the same share.
    left = np.ones(len(totals.data))
    np.divide(whole.measured_exposure, whole.exposure, out=left, where=whole.exposure > 0)
    exposure = np.maximum(each.exposure * left[code], each.events)
    columns = {kind: told for kind, told in _columns(counts, pitches, also).items() if told.nunique() > 1}
    if not columns:
        return None
    coded = {kind: pd.factorize(told, sort=True) for kind, told in columns.items()}
    # Games are forgotten: what was met again is one cell.
    frame = pd.DataFrame({"hitter": code, **{kind: at for kind, (at, _) in coded.items()}})
    if part is not None:
        frame["part"] = part
    there = exposure > 0
    cell = frame[there].groupby(list(frame.columns), sort=True)
    number = cell.ngroup().to_numpy(np.int64)
    first = np.unique(number, return_index=True)[1]
    kept = frame[there].iloc[first]
    cells = Crossed(
        kept["hitter"].to_numpy(np.int64),
        tuple(kept[kind].to_numpy(np.int64) for kind in columns),
        tuple(len(names) for _, names in coded.values()),
        np.bincount(number, each.events[there]).astype(np.float64),
        np.bincount(number, exposure[there]).astype(np.float64),
        len(totals.data),
    )
    named = tuple(tuple(str(name) for name in names) for _, names in coded.values())
    parts = None if part is None else kept["part"].to_numpy(np.int64)
    return Meetings(cells, tuple(columns), named, totals, parts)


def unequal(met: Meetings) -> tuple[Unequal, Any]:
    """Return by how much what hitters faced differs, and what ``fit_crossed`` goes on from."""
    found = fit_mode(met.cells)
    mode = found[1]
    return _unequal(mode, _mix(met.cells, mode, np.ones(len(met.cells.hitter), dtype=bool))), found


def unequal_in_parts(met: Meetings, parts: Sequence[int]) -> list[Unequal]:
    """Return by how much what hitters faced in some parts of their record differs from the rest of it.

    Each part is held against what everybody faced in it; 0 for a hitter with nothing in one of them.

    Parameters
    ----------
    met
        Told apart by part.
    parts
        Those asked for; each is compared with all the others together.
    """
    if met.part is None:
        raise ValueError("the meetings are not told apart by part")
    mode, out = fit_mode(met.cells)[1], []
    for one in parts:
        here = np.asarray(met.part == one)
        first, second = _mix(met.cells, mode, ~here), _mix(met.cells, mode, here)
        in_both = np.abs(first).max(axis=1, keepdims=True) * np.abs(second).max(axis=1, keepdims=True) > 0
        out.append(_unequal(mode, (second - first) * in_both))
    return out


def _unequal(mode: Mode, mix: Floats) -> Unequal:
    with one_thread():
        return Unequal(mix @ mode.rest, np.linalg.norm(solved(mode.factor, mix.T), axis=0))


def _mix(cells: Crossed, mode: Mode, chosen: NDArray[np.bool_]) -> Floats:
    """Return what each hitter faced in some of the cells, less what all of them together faced there.

    Shape (hitters, effects): the weight of every effect; 0 for who is in none of the cells.
    """
    from scipy.special import expit

    faced = sum(cells.sizes)
    eta = mode.given(mode.rest)[cells.hitter] + mode.rest[faced] + cells.effect(mode.rest[:faced])
    p = expit(eta)
    exposure = np.where(chosen, cells.exposure, 0.0)
    n = exposure * p * (1 - p)
    own = np.maximum(cells.sum_over(n), 1e-300)
    league = exposure / max(exposure.sum(), 1e-300)
    shares, start = np.zeros((cells.hitters, len(mode.rest))), 0
    for level, size in zip(cells.levels, cells.sizes, strict=True):
        known = level >= 0
        place = cells.hitter[known] * size + level[known]
        mine = np.bincount(place, n[known], cells.hitters * size).reshape(-1, size) / own[:, np.newaxis]
        shares[:, start : start + size] = mine - np.bincount(level[known], league[known], size)
        start += size
    shares[cells.sum_over(exposure) == 0] = 0.0
    return shares


def _met(
    given: Any,
    event: str,
    per: str,
    also: Sequence[str],
    where: Pitches | None,
    conventions: Conventions | None,
) -> Meetings:
    pitches = None if _is_counted(given) else given
    if pitches is None:
        if where is not None or conventions is not None:
            raise CountsError(
                "where= and conventions= choose how pitches are counted; these are counts already"
            )
        counts = _counted(given)
    else:
        by = faced_columns(set(frame_of(pitches)[0].collect_schema().names()), also)
        if not by:
            raise MissingColumnsError(
                "this needs to know whom a hitter faced: the column pitcher, or game and club; map the "
                "column of yours that holds the pitcher"
            )
        doubts = doubts_of(pitches)
        counts = tally(pitches, ["hitter", *by], where=where, conventions=conventions, doubts=doubts)
    met = meetings(counts, pitches, event, per, also)
    if met is None:
        raise MissingColumnsError(
            "there are not two pitchers, staffs or parks in this table, so that nothing can be told apart"
        )
    return met


def _is_counted(given: Any) -> bool:
    """Say whether it is counts: ``Counts``, or an eager frame without outcomes."""
    if isinstance(given, Counts):
        return True
    frame = nw.from_native(given, eager_only=True, pass_through=True)
    return isinstance(frame, nw.DataFrame) and "outcome" not in frame.columns


def _counted(given: Any) -> Counts:
    if isinstance(given, Counts):
        counts = given
    else:
        columns = nw.from_native(given, eager_only=True).columns
        told = [name for name in ("hitter_id", "hitter", *CROSSED_KINDS) if name in columns]
        counts = Counts.from_table(given, by=told)
    if not {"pitcher_id", *CROSSED_KINDS} & set(counts.by):
        raise MissingColumnsError(
            f"these counts are by {' and '.join(counts.by)}; to know whom a hitter faced, count by pitcher "
            'as well: tally(pitches, by=["hitter", "pitcher"])'
        )
    return counts


def _columns(counts: Counts, pitches: Any, also: Sequence[str]) -> dict[str, pd.Series[Any]]:
    """Return for every row what was faced, by kind; missing where it is not known."""
    data = counts.data
    told: dict[str, pd.Series[Any]] = {}
    who = next((name for name in ("pitcher_id", "pitcher") if name in counts.by), "")
    if who:
        told["pitcher"] = data[who]
    if pitches is None:
        told |= {kind: data[kind] for kind in CROSSED_KINDS if kind in counts.by and kind not in told}
    elif "game" in counts.by:
        told |= sides(data, pitches, who or "club", counts.conventions)
    if "hands" in also and "hands" not in told:
        side, hand = data["hitter_side"], data["pitcher_hand"]
        same = pd.Series(np.where(side == hand, "same hand", "other hand"), index=data.index)
        told["hands"] = same.where(side.notna() & hand.notna())
    if "pitch_kind" in also:
        told["pitch_kind"] = data["pitch_kind"]
    return told


def sides(
    data: pd.DataFrame, pitches: Any, who: str, conventions: Conventions | None = None
) -> dict[str, pd.Series[Any]]:
    """Return the staff and the park of every row, from who bats in which half of the game.

    Parameters
    ----------
    data
        With the columns ``game`` and ``who``.
    pitches
        The pitch table.
    who
        Column that tells the pitchers apart; ``club``, the club at bat, where none does.
    conventions
        How the pitches are counted elsewhere: counts that are kept so are taken.
    """
    frame, _ = frame_of(pitches)
    columns = set(frame.collect_schema().names())
    if "club" not in columns:
        return {}
    half = ["half"] if "half" in columns else []
    keys = list(dict.fromkeys(["game", who, "club", *half]))
    kept = kept_counts(frame, keys, columns, conventions or Conventions())
    # Grouped, and not asked for what is unique: DuckDB takes a quarter of the time.
    seen = (Pitched(frame) if kept is None else kept).rows_by(*keys)
    seen = seen.dropna(subset=["game", "club"])
    clubs = seen[["game", "club"]].drop_duplicates().sort_values(["game", "club"])
    two = clubs.groupby("game")["club"].agg(["count", "first", "last"])
    two = two[two["count"] == 2]
    batting = seen.dropna(subset=[who]).drop_duplicates(["game", who, "club"]).groupby(["game", who])["club"]
    # Who pitched to both clubs of one game is not known to be of one of them.
    told = batting.agg("first")[batting.size() == 1].rename("batting").reset_index().merge(
        two.reset_index(), on="game"
    )  # fmt: skip
    told["staff"] = np.where(told["batting"] == told["first"], told["last"], told["first"])
    met = _pairs(data, who, told)
    out = {"staff": looked_up(met, told.set_index(_pairs(told, who, told))["staff"])}
    if half:
        home = seen[(seen["half"] == "bottom")].drop_duplicates(["game", "club"]).groupby("game")["club"]
        park = home.agg("first")[home.size() == 1]
        out["park"] = looked_up(data["game"], park)
    return out


def _pairs(data: pd.DataFrame, who: str, told: pd.DataFrame) -> pd.Series[Any]:
    """Give each game and pitcher a whole number, equal to that of the same ones in what is told of them."""
    games, pitchers = (
        pd.Series(np.arange(len(u)), index=u) for u in (told["game"].unique(), told[who].unique())
    )
    game, pitcher = looked_up(data["game"], games), looked_up(data[who], pitchers)
    return (game * (len(pitchers) + 1) + pitcher).astype("float64")


def _apart(cells: Crossed) -> str:
    """Say where parts of the league never met: what they faced has nothing in common."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    nodes, start = cells.hitters, cells.hitters
    rows, columns = [], []
    for level, size in zip(cells.levels, cells.sizes, strict=True):
        known = level >= 0
        rows.append(cells.hitter[known])
        columns.append(level[known] + start)
        start += size
        nodes += size
    edges = coo_array(
        (np.ones(sum(map(len, rows))), (np.concatenate(rows), np.concatenate(columns))), (nodes, nodes)
    )
    _, part = connected_components(edges, directed=False)
    there = np.bincount(cells.hitter, minlength=cells.hitters) > 0
    parts = len(np.unique(part[: cells.hitters][there]))
    return (
        f"the table falls into {parts} parts that never met: which part's pitching is better cannot be told "
        "from it, and the intervals allow for that by what pitchers, staffs and parks differ by within them"
        if parts > 1
        else ""
    )


def _deviations(met: Meetings, drawn: Drawn, level: float) -> pd.DataFrame:
    tails = [(1 - level) / 2, (1 + level) / 2]
    low, high = np.quantile(drawn.deviations, tails, axis=0)
    return pd.DataFrame(
        {
            "kind": ["hitters", *(CROSSED_KINDS[kind] for kind in met.kinds)],
            "levels": [met.cells.hitters, *met.cells.sizes],
            "deviation": drawn.mean_of(drawn.deviations),
            "low": low,
            "high": high,
        }
    )


def _effects(met: Meetings, drawn: Drawn) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "kind": np.repeat([CROSSED_KINDS[kind] for kind in met.kinds], met.cells.sizes),
            "name": [name for names in met.names for name in names],
            "effect": drawn.mean_of(drawn.effects),
            "error": drawn.error_of(drawn.effects),
        }
    )


def meetings_told(counts: Counts, pitches: Any, event: str, per: str, *, part: Any = None) -> Meetings | None:
    """Do what :func:`meetings` does; ``None`` where the table does not tell, too."""
    try:
        return meetings(counts, pitches, event, per, part=part)
    except MissingColumnsError:
        return None
