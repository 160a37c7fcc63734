"""Two charts of the same games beside each other: which rows are one pitch, and where the charters differ."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.charting.aligning import COSTS, align, numbered
from hitlab.counting.intervals import DEFAULT_LEVEL, share_interval
from hitlab.counting.summing import collected
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.names import fold
from hitlab.optional import load
from hitlab.pitches.opening import demand_here, frame_of
from hitlab.pitches.schema import NEEDED
from hitlab.results import Listing, Note, Part, Table
from hitlab.showing import shown_name
from hitlab.wording import level_words, listed, percent

__all__ = ["Charters", "compare_charters", "kappa_interval"]

_WORDS = (
    *("hitter", "pitcher", "inning", "half", "outs", "bases", "balls", "strikes", "pitch_kind"),
    *("outcome", "check_swing", "bunt", "hard", "foul_side", "result"),
)
_NUMBERS = ("speed_mph", "inside_in", "height_in", "exit_mph", "launch_deg", "spray_deg")
_KEPT = ("date", "inning", "half", "plate_appearance", "pitch", "hitter", "clip")
_ONE, _OTHER, _BOTH = "first only", "second only", "both"


@dataclass(frozen=True, slots=True, eq=False)
class Charters(Listing):
    """How well two charters agree.

    Attributes
    ----------
    data
        One row a column that both have: ``column``, ``compared`` (pitches both wrote a value for), ``agree``,
        ``agreement`` (a share) with its Wilson interval ``low`` and ``high``, ``kappa`` (agreement beyond
        that of two who guess as often) with ``kappa_low`` and ``kappa_high``, ``one_blank`` (pitches for
        which one alone wrote a value).
    pairs
        One row a pitch, in order of play: ``game``, ``first_row`` and ``second_row`` (from 0; missing where
        the charter has none), ``found`` (both, first only, second only), ``doubled`` (whether the row alone
        repeats the row beside it).
    confusions
        One row for each two values of a column that stand for one pitch: ``column``, ``first``, ``second``,
        ``times``, the most frequent first.
    numbers
        Columns of numbers: ``column``, ``compared``, ``mean_difference`` (first less second),
        ``deviation`` (standard deviation of the differences).
    games
        One row a game: ``game``, ``first_rows``, ``second_rows``, ``matched``, ``first_only``,
        ``second_only``.
    look_again
        One row a pitch to look at once more on video: ``game``, ``why``, where it is in both tables, and
        what is told of where it is.
    level
        Of the intervals.
    notes
        What has to be known.
    """

    data: pd.DataFrame
    pairs: pd.DataFrame
    confusions: pd.DataFrame
    numbers: pd.DataFrame
    games: pd.DataFrame
    look_again: pd.DataFrame
    level: float
    notes: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """How many pitches were found in both, and in one alone."""
        found = self.pairs["found"].value_counts()
        doubled = int(self.pairs["doubled"].sum())
        alone = f"{int(found.get(_ONE, 0)):,} in the first alone, {int(found.get(_OTHER, 0)):,} in the second"
        return (
            f"Two charters: {int(found.get(_BOTH, 0)):,} pitches in both, {alone}"
            f"{f' ({doubled:,} of these repeat the row beside them)' if doubled else ''}; "
            f"{len(self.look_again):,} to look at again; {level_words(self.level)} intervals"
        )

    def confusion(self, column: str) -> pd.DataFrame:
        """Return the first charter's values of a column (rows) against the second's, counted."""
        mine = self.confusions[self.confusions["column"] == column]
        if mine.empty:
            raise MissingColumnsError(
                f"column={column!r} was not compared; there are: {', '.join(self.data['column'])}"
            )
        return mine.pivot_table(index="first", columns="second", values="times", aggfunc="sum", fill_value=0)

    def table_for_people(self) -> pd.DataFrame:
        """Return shares in per cent, kappa with two digits."""
        data = self.data
        return pd.DataFrame(
            {
                "column": data["column"],
                "compared": data["compared"],
                "agree": [percent(one) for one in data["agreement"]],
                "from": [percent(one) for one in data["low"]],
                "to": [percent(one) for one in data["high"]],
                "kappa": [_two_digits(one) for one in data["kappa"]],
                "kappa from": [_two_digits(one) for one in data["kappa_low"]],
                "kappa to": [_two_digits(one) for one in data["kappa_high"]],
                "one blank": data["one_blank"],
            }
        )

    def contents(self) -> Iterable[Part]:
        """Return agreement by column, the commonest confusions and the first pitches to look at again."""
        different = self.confusions[self.confusions["first"] != self.confusions["second"]]
        return [
            self.title,
            *(Note(note) for note in self.notes),
            Table(self.table_for_people()),
            *(("What was taken for what:", Table(different, 12)) if len(different) else ()),
            *(("Numbers:", Table(self.numbers.round(2))) if len(self.numbers) else ()),
            *(("To look at again:", Table(self.look_again, 12, missing="")) if len(self.look_again) else ()),
        ]


def compare_charters(chart: Any, other_chart: Any, *, level: float = DEFAULT_LEVEL) -> Charters:
    """Lay two charts of the same games beside each other, pitch by pitch.

    Parameters
    ----------
    chart, other_chart
        The first and the second charter's pitch table: paths, ``Reading`` objects or frames, rows in order of
        play.
    level
        Of the intervals.

    Returns
    -------
    Charters
        Agreement by column, confusions, and the pitches to look at again.

    Raises
    ------
    CountsError
        Where the tables have no game in common, or no level is given.
    MissingColumnsError
        Where a table lacks hitter or outcome.
    ReadingError
        Where a table cannot be read.
    MissingPackageError
        Where statsmodels, which works out kappa's error, is not installed.

    Notes
    -----
    Rows are matched within a game by hitter, inning, count, outcome and kind of pitch. Of several rows that
    are alike, such as three fouls in a row of which one was missed, nobody can tell which is missing.

    References
    ----------
    Cohen 1960, Educ. Psychol. Meas. 20:37-46 (kappa); Fleiss, Cohen & Everitt 1969, Psychol. Bull. 72:323-327
    (its error).

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.charting import compare_charters
    >>> first = pd.DataFrame({"hitter": ["Haxditch"] * 4, "strikes": [0, 0, 1, 2],
    ...                       "outcome": ["ball", "foul", "whiff", "in play"]})
    >>> second = first.drop(index=2).assign(outcome=["ball", "foul tip", "in play"])
    >>> found = compare_charters(first, second)
    >>> found.pairs["found"].tolist()
    ['both', 'both', 'first only', 'both']
    >>> found.table()[["column", "compared", "agree"]]
        column  compared  agree
    0   hitter         3      3
    1  strikes         3      3
    2  outcome         3      2
    """
    if not 0 < level < 1:
        raise CountsError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    one, other = (_opened(table, which) for table, which in ((chart, "first"), (other_chart, "second")))
    notes: list[str] = []
    pairs = _matched(one, other, notes)
    both = pairs[pairs["found"] == _BOTH]
    left = one.iloc[both["first_row"].to_numpy(int)].reset_index(drop=True)
    right = other.iloc[both["second_row"].to_numpy(int)].reset_index(drop=True)
    rows, confusions, unlike = [], [], {}
    for column in (name for name in _WORDS if name in one and name in other):
        a, b = _comparable(left[column], column), _comparable(right[column], column)
        there = (a.notna() & b.notna()).to_numpy()
        if not there.any():
            continue
        rows.append(_agreement(column, a[there], b[there], level, int((a.notna() ^ b.notna()).sum())))
        counted = (
            pd.DataFrame({"first": a[there], "second": b[there]}).value_counts().reset_index(name="times")
        )
        confusions.append(counted.assign(column=column)[["column", "first", "second", "times"]])
        unlike[column] = there & (a != b).to_numpy()
    data = pd.DataFrame(rows)
    games = _games(pairs)
    notes += _notes(pairs, games, data, confusions)
    confused = pd.concat(confusions, ignore_index=True).sort_values(
        "times", ascending=False, kind="stable", ignore_index=True
    )
    return Charters(
        data,
        pairs,
        confused,
        _numbers(left, right),
        games,
        _look_again(one, other, pairs, unlike, left, right),
        level,
        tuple(notes),
    )


def kappa_interval(table: Any, level: float = DEFAULT_LEVEL) -> tuple[float, float, float]:
    """Return Cohen's kappa of a square table of counts, and its interval.

    The error is that of Fleiss, Cohen & Everitt (through statsmodels). The interval is Wilson's for the share
    agreed, as long a record as has that error: it stays within the possible, and is not empty where
    everything agrees. Where both always say the same one thing there is no kappa.
    """
    rater = load("statsmodels.stats.inter_rater", "two charters' agreement beyond chance", "statistics")
    table = np.asarray(table, dtype=float)
    total = table.sum()
    agreed = float(np.trace(table) / total)
    by_chance = float(table.sum(axis=0) @ table.sum(axis=1) / total**2)
    if by_chance >= 1:
        return np.nan, np.nan, np.nan
    length = total
    if 0 < agreed < 1:
        found = rater.cohens_kappa(table)
        variance = float(found.var_kappa) * (1 - by_chance) ** 2
        length = agreed * (1 - agreed) / variance if variance > 0 else total
    from scipy.special import ndtri

    z2 = float(ndtri((1 + level) / 2)) ** 2
    middle = (agreed + z2 / (2 * length)) / (1 + z2 / length)
    half = np.sqrt(z2 * (agreed * (1 - agreed) / length + z2 / (4 * length**2))) / (1 + z2 / length)
    high = 1.0 if agreed == 1 else min(middle + half, 1.0)
    ends = (agreed, max(middle - half, 0.0), high)
    kappa, low, high = ((share - by_chance) / (1 - by_chance) for share in ends)
    return kappa, low, high


def _opened(table: Any, which: str) -> pd.DataFrame:
    demand_here(table, "a comparison of two charters")
    frame = collected(frame_of(table)[0]).reset_index(drop=True)
    absent = [name for name in NEEDED if name not in frame]
    if absent:
        raise MissingColumnsError(f"the {which} table has no column {absent[0]}; map the one that holds it")
    if frame.empty:
        raise CountsError(f"the {which} table has no rows")
    return frame


def _comparable(values: Any, column: str) -> Any:
    """Return values as they are compared: names without case and accents, flags and numbers as text."""
    if column in ("hitter", "pitcher"):
        told = {name: fold(name) for name in values.dropna().unique()}
        return values.astype(object).map(told)
    if column in ("check_swing", "bunt"):  # a blank is none
        values = values.astype(object).where(values.notna(), False)
    if pd.api.types.is_numeric_dtype(values) and not pd.api.types.is_bool_dtype(values):
        values = values.astype(float)
    return values.astype(object).map({one: _as_word(one) for one in values.dropna().unique()})


def _as_word(value: Any) -> str:
    if isinstance(value, bool | np.bool_):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float | np.floating) else str(value)


def _matched(one: pd.DataFrame, other: pd.DataFrame, notes: list[str]) -> pd.DataFrame:
    """Match the rows of two tables, game by game."""
    labels = [
        frame["game"].astype(object).where(frame["game"].notna(), "").map(str)
        if "game" in frame
        else pd.Series("", index=frame.index)
        for frame in (one, other)
    ]
    seen = [list(dict.fromkeys(each)) for each in labels]
    if not set(seen[0]) & set(seen[1]):
        if len(seen[0]) != 1 or len(seen[1]) != 1:
            raise CountsError(
                f"no game stands in both tables: {listed(seen[0][:3])} in the first, {listed(seen[1][:3])} "
                "in the second; give a game the same name in both"
            )
        if seen[0][0] and seen[1][0]:
            notes.append(
                f"the only game is called {shown_name(seen[0][0])} in one table and {shown_name(seen[1][0])} "
                "in the other; they are taken for the same"
            )
        labels[1] = pd.Series(seen[0][0], index=other.index)
        seen[1] = seen[0]
    names = [name for name in COSTS if name in one and name in other]
    columns = [numbered(_comparable(one[n], n), _comparable(other[n], n)) for n in names]
    parts = []
    places: list[Any] = [each.groupby(each, sort=False).indices for each in labels]
    for game in dict.fromkeys((*seen[0], *seen[1])):
        mine, yours = (each.get(game, np.array([], dtype=np.int64)) for each in places)
        found = align(
            [a[mine] for a, _ in columns], [b[yours] for _, b in columns], [COSTS[n] for n in names]
        )
        rows = pd.DataFrame({"game": game}, index=range(len(found)))
        for name, at, of in (("first_row", 0, mine), ("second_row", 1, yours)):
            place = found[:, at]
            taken = of[np.maximum(place, 0)] if len(of) else np.zeros(len(place), dtype=np.int64)
            rows[name] = pd.array(np.where(place >= 0, taken, -1), dtype="Int64")
            rows.loc[place < 0, name] = pd.NA
        parts.append(rows)
    pairs = pd.concat(parts, ignore_index=True)
    left, right = pairs["first_row"].notna(), pairs["second_row"].notna()
    pairs["found"] = np.where(left & right, _BOTH, np.where(left, _ONE, _OTHER))
    pairs["doubled"] = False
    for side, row, at in ((_ONE, "first_row", 0), (_OTHER, "second_row", 1)):
        values = np.column_stack([each[at] for each in columns])
        playing = labels[at].to_numpy()
        alone = np.flatnonzero(pairs["found"] == side)
        for alone_at, here in zip(alone.tolist(), pairs[row].iloc[alone].tolist(), strict=True):
            beside = [at_row for at_row in (here - 1, here + 1) if 0 <= at_row < len(values)]
            pairs.loc[alone_at, "doubled"] = any(
                playing[near] == playing[here] and (values[near] == values[here]).all() for near in beside
            )
    return pairs


def _agreement(column: str, a: Any, b: Any, level: float, one_blank: int) -> dict[str, Any]:
    mine, yours = numbered(a, b)
    many = int(max(mine.max(), yours.max())) + 1
    square = np.bincount(mine * many + yours, minlength=many**2).reshape(many, many)
    agree, compared = int(np.trace(square)), int(square.sum())
    low, high = share_interval(agree, compared, level=level)
    kappa, kappa_low, kappa_high = kappa_interval(square, level)
    return {
        "column": column,
        "compared": compared,
        "agree": agree,
        "agreement": agree / compared,
        "low": float(low),
        "high": float(high),
        "kappa": kappa,
        "kappa_low": kappa_low,
        "kappa_high": kappa_high,
        "one_blank": one_blank,
    }


def _numbers(left: pd.DataFrame, right: pd.DataFrame) -> pd.DataFrame:
    rows = []
    for column in (name for name in _NUMBERS if name in left and name in right):
        apart = (left[column].astype(float) - right[column].astype(float)).dropna()
        if len(apart) > 1:
            told = (column, len(apart), float(apart.mean()), float(apart.std()))
            rows.append(dict(zip(("column", "compared", "mean_difference", "deviation"), told, strict=True)))
    return pd.DataFrame(rows)


def _games(pairs: pd.DataFrame) -> pd.DataFrame:
    by = pairs.groupby("game", sort=False)
    counted = {
        "first_rows": by["first_row"].count(),
        "second_rows": by["second_row"].count(),
        "matched": by["found"].agg(lambda found: int((found == _BOTH).sum())),
        "first_only": by["found"].agg(lambda found: int((found == _ONE).sum())),
        "second_only": by["found"].agg(lambda found: int((found == _OTHER).sum())),
    }
    return pd.DataFrame(counted).rename_axis("game").reset_index()


def _notes(
    pairs: pd.DataFrame, games: pd.DataFrame, data: pd.DataFrame, confusions: list[pd.DataFrame]
) -> list[str]:
    notes = []
    for which, rows in (("second", "second_rows"), ("first", "first_rows")):
        absent = games.loc[games[rows] == 0, "game"]
        if len(absent):
            other = "first" if which == "second" else "second"
            named = listed([shown_name(game) for game in absent[:3]])
            more = f" and {len(absent) - 3:,} more" if len(absent) > 3 else ""
            notes.append(f"charted by the {other} alone: {named}{more}; left out of what is compared")
    runs = (pairs["found"] != pairs["found"].shift()) | (pairs["game"] != pairs["game"].shift())
    length = pairs.groupby(runs.cumsum()).agg(
        found=("found", "first"), game=("game", "first"), rows=("found", "size")
    )
    both_have = set(games.loc[(games["first_rows"] > 0) & (games["second_rows"] > 0), "game"])
    long = length[(length["found"] != _BOTH) & (length["rows"] >= 10) & length["game"].isin(both_have)]
    for run in long.to_dict("records"):
        who = "second" if run["found"] == _ONE else "first"
        notes.append(f"the {who} has nothing for {run['rows']:,} pitches on end in {shown_name(run['game'])}")
    hard = data[data["column"] == "hard"]
    if len(hard):
        apart = 1 - float(hard["agreement"].iloc[0])
        notes.append(
            f"hard: they differ on {percent(apart)} of {int(hard['compared'].iloc[0]):,} balls, so that the "
            f"two are wrong on {percent(apart / 2)} or more, on average. How much more two eyes cannot "
            "tell: where both are deceived by the same ball they agree. Where there is a radar, "
            "`hitlab eye` tells (in Python eye_against_radar)"
        )
        found = next(one for one in confusions if one["column"].iloc[0] == "hard")
        notes += [
            f"hard: the {which} says nothing but {found[which].iloc[0]!r}; where the others were left blank, "
            "say in the mapping what a blank means ([blanks] hard = false)"
            for which in ("first", "second")
            if found[which].nunique() == 1
        ]
    return notes


def _look_again(
    one: pd.DataFrame,
    other: pd.DataFrame,
    pairs: pd.DataFrame,
    unlike: dict[str, NDArray[np.bool_]],
    left: pd.DataFrame,
    right: pd.DataFrame,
) -> pd.DataFrame:
    """Return what to look at on video: pitches of one alone, and those told differently."""
    why = np.full(len(pairs), "", dtype=object)
    why[(pairs["found"] == _ONE).to_numpy()] = "not in the second"
    why[(pairs["found"] == _OTHER).to_numpy()] = "not in the first"
    why[pairs["doubled"].to_numpy()] = "written twice?"
    both = np.flatnonzero(pairs["found"] == _BOTH)
    for column, differs in unlike.items():
        for place in np.flatnonzero(differs):
            a, b = (_as_word(side[column].iloc[place]) for side in (left, right))
            said = f"{column}: {a} or {b}"
            why[both[place]] = f"{why[both[place]]}; {said}" if why[both[place]] else said
    # A game that only one charted is told in a note, and nothing of it is in dispute.
    there = pairs.groupby("game")[["first_row", "second_row"]].transform("count").gt(0).all(axis=1)
    chosen = pairs[(why != "") & there.to_numpy()]
    out = chosen[["game"]].assign(why=why[chosen.index])
    for name in _KEPT:
        told = _told(one, name, chosen["first_row"]).combine_first(_told(other, name, chosen["second_row"]))
        if told.notna().any():
            out[name] = told
    out["first_row"], out["second_row"] = chosen["first_row"], chosen["second_row"]
    found: pd.DataFrame = out.reset_index(drop=True)
    return found


def _told(frame: pd.DataFrame, name: str, rows: Any) -> Any:
    """Return what a table has in a column for some rows, missing where there is no row."""
    if name not in frame:
        return pd.Series(None, index=rows.index, dtype=object)
    place = rows.fillna(-1).astype(int)
    told = frame[name].astype(object).iloc[place.to_numpy()].set_axis(rows.index)
    return told.where(place >= 0, None)


def _two_digits(value: float) -> str:
    return "none" if np.isnan(value) else f"{value:.2f}"
