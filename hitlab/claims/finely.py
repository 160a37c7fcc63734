"""What counts by game, season and what hitters faced tell of one rate; kept where counts of pitches are kept.

To take many seasons apart by game and pitcher, and to fit what hitters faced, takes far longer than to count
a hitter's swings, and is the same for every claim about the rate. What comes of it are some numbers a hitter.
They are kept beside a folder of saved tables (:mod:`hitlab.pitches.kept_files`), under all of its parts and
all that was asked, and worked out anew where they are not there or cannot be what they say.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd

from hitlab.claims.seasons import by_season
from hitlab.claims.source import Source
from hitlab.counting.counts import Counts
from hitlab.errors import CountsError
from hitlab.estimates.crossed import Drawn, fit_crossed
from hitlab.estimates.faced import Unequal, meetings_told, unequal
from hitlab.over_time.dependence import Crowded, Overdispersion, crowded, overdispersed
from hitlab.over_time.seasons import each_season
from hitlab.over_time.stretches import by_game, hitter_key, hitter_totals
from hitlab.pitches.kept_files import Name, forget, keep, kept, writing
from hitlab.pitches.storing import demand_unchanged, folder_of

__all__ = ["Against", "Finely"]

_ALIKE, _FACED, _SEASONS = "alike", "faced", "seasons"
_MOST_RATES = 24  # of which this is kept (a default): a claim, a list and a page ask about a few


@dataclass(slots=True)
class Against:
    """What hitters faced.

    Attributes
    ----------
    words
        What it is told by; empty where there are not two of anything.
    apart
        By how much it differs; ``None`` then.
    draw
        Gives the draws, where it matters.
    """

    words: str
    apart: Unequal | None
    draw: Callable[[], Drawn]

    @classmethod
    def of(cls, met: Counts, pitches: Any, event: str, per: str) -> Against:
        """Tell it by counts by hitter and by what he faced."""
        found = meetings_told(met, pitches, event, per)
        if found is None:
            return cls("", None, _nothing)
        apart, start = unequal(found)
        return cls(found.words, apart, lambda: fit_crossed(found.cells, found=start))


def _nothing() -> Drawn:
    raise ValueError("there are not two of anything")


@dataclass(frozen=True)
class Finely:
    """A rate, by game and by what hitters faced.

    Attributes
    ----------
    source
        Where counts are from.
    chosen
        Terms that choose pitches.
    columns
        By which hitters' pitches are told apart.
    counts
        By hitter.
    counted
        By hitter and ``columns``, where that was counted already; then nothing is kept.
    """

    source: Source
    chosen: tuple[str, ...]
    columns: tuple[str, ...]
    counts: Counts
    counted: Counts | None = None

    @classmethod
    def of(cls, source: Source, chosen: tuple[str, ...], columns: Sequence[str]) -> Finely:
        """Count pitches by hitter: once, by all of the columns, but where what comes of these is kept."""
        columns = tuple(dict.fromkeys(columns))
        if not columns or source.keeps_counts(*chosen):
            return cls(source, chosen, columns, source.counts(*chosen))
        detail = source.counts(*chosen, by=columns)
        return cls(source, chosen, columns, hitter_totals(detail), detail)

    @cached_property
    def _detail(self) -> Counts:
        if self.counted is not None:
            return self.counted
        return self.source.counts(*self.chosen, by=self.columns, only=self.source.rate)

    @cached_property
    def _folder(self) -> Any:
        """Where it is kept; ``None`` where nothing is."""
        one = None if self.counted is not None else folder_of(self.source.frame.to_native())
        return one if one is not None and one.pays else None

    def alike(self) -> Overdispersion | None:
        """Say how much alike attempts of a game are; ``None`` where that cannot be told."""
        event, per = self.source.rate
        told = self._kept(_ALIKE)
        try:
            found = None if told is None else _crowded_of(told, len(self.counts.data))
            if found is None:
                games = self._detail.summed((hitter_key(self._detail), "game"))
                found = crowded(by_game(games, event, per))
                self._keep(_ALIKE, **{one.name: getattr(found, one.name) for one in fields(Crowded)})
        except CountsError:
            return None
        return overdispersed(self.counts, event, per, found)

    def against(self) -> Against:
        """Tell what hitters faced."""
        told = self._kept(_FACED)
        found = None if told is None else _against_of(told, len(self.counts.data))
        if found is None:
            return self._anew()
        words, apart, drawn = found
        return Against(words, apart, lambda: self._anew().draw() if drawn is None else drawn)

    def _anew(self) -> Against:
        found = Against.of(self._detail, self.source.games, *self.source.rate)
        apart = found.apart
        told: dict[str, Any] = {"words": found.words}
        told |= {} if apart is None else {"apart": np.stack([apart.log_odds, apart.error])}
        self._keep(_FACED, **told)

        def draw() -> Drawn:
            drawn = found.draw()
            self._keep(_FACED, **told, **{one.name: getattr(drawn, one.name) for one in fields(Drawn)})
            return drawn

        return Against(found.words, apart, draw)

    def by_season(self) -> pd.DataFrame:
        """Give the events and the attempts of each in each season; ``place`` is that in the counts."""
        told = self._kept(_SEASONS)
        found = None if told is None else _seasons_of(told, len(self.counts.data))
        if found is None:
            counts = by_season(self.source, *self.chosen)
            found = each_season(counts, counts.by[-1], *self.source.rate)
            key = pd.Index(self.counts.data[self.counts.by[0]])
            found.insert(0, "place", key.get_indexer(found.pop(counts.by[0])))
            self._keep(_SEASONS, **{str(name): found[name].to_numpy() for name in found})
        return found

    @cached_property
    def _way(self) -> str:
        import scipy

        asked = (self.source.question.subject, self.source.rate, self.chosen, self.columns)
        by = self.source.question.conventions, self.counts.fingerprint
        return json.dumps([*map(repr, (*asked, *by)), np.__version__, scipy.__version__])

    def _kept(self, kind: str) -> dict[str, Any] | None:
        one = self._folder
        table = None if one is None else kept(one.folder, Name(kind, one.seal, self._way), 1)
        if table is None or table.num_rows != 1:
            return None
        return {name: _value(table.column(name)[0]) for name in table.column_names}

    def _keep(self, kind: str, **told: Any) -> None:
        import pyarrow as pa

        one = self._folder
        if one is None:
            return
        demand_unchanged(self.source.frame.to_native())
        row = {name: [np.ravel(x) if isinstance(x, np.ndarray) else x] for name, x in told.items()}
        with writing(one.folder) as mine:
            if mine:
                keep(one.folder, Name(kind, one.seal, self._way), pa.table(row))
        forget(one.folder, one.seals, self._way, (_ALIKE, _FACED, _SEASONS), _MOST_RATES)


def _value(scalar: Any) -> Any:
    """Give a number, a text, or an array of numbers."""
    import pyarrow as pa

    listed = pa.types.is_list(scalar.type) and scalar.is_valid
    return scalar.values.to_numpy(zero_copy_only=False) if listed else scalar.as_py()


def _numbers(told: Any, kind: type = np.float64) -> np.ndarray[Any, Any]:
    if not np.isfinite(told).all():
        raise ValueError("a number is missing")
    return np.asarray(told, dtype=kind)


def _crowded_of(told: dict[str, Any], hitters: int) -> Crowded | None:
    """Take back what was kept, if it can be of so many hitters."""
    try:
        events, exposure = (_numbers(told[name], np.int64) for name in ("events", "exposure"))
        others = _numbers(told["others"])
        numbers = float(told["correlation"]), float(told["standard_error"])
        if {len(events), len(exposure), len(others)} != {hitters}:
            return None
        return Crowded(events, exposure, others, *numbers, int(told["pairs"]), int(told["left_out"]))
    except (KeyError, TypeError, ValueError):
        return None


def _seasons_of(told: dict[str, Any], hitters: int) -> pd.DataFrame | None:
    """Take back what was kept, if it can be of so many hitters."""
    try:
        places, *sums = (_numbers(told[name], np.int64) for name in ("place", "events", "exposure"))
        events, exposure = sums
        names = [str(name) for name in told["season"]]
        if (places >= hitters).any() or (events < 0).any() or (events > exposure).any():
            return None
        return pd.DataFrame({"place": places, "season": names, "events": events, "exposure": exposure})
    except (KeyError, TypeError, ValueError):
        return None


def _against_of(told: dict[str, Any], hitters: int) -> tuple[str, Unequal | None, Drawn | None] | None:
    """Take back what was kept, if it can be of so many hitters."""
    try:
        if not told["words"]:
            return "", None, None
        log_odds, error = _numbers(told["apart"]).reshape(2, hitters)
        apart = Unequal(log_odds, error)
        if "weights" not in told:
            return str(told["words"]), apart, None
        names = [one.name for one in fields(Drawn) if one.name != "useful"]
        arrays = {name: _numbers(told[name]) for name in names}
        many = len(arrays["weights"])
        for name in names[1:]:
            by_hitter = name not in ("effects", "deviations")
            arrays[name] = arrays[name].reshape(many, hitters if by_hitter else -1)
        return str(told["words"]), apart, Drawn(**arrays, useful=float(told["useful"]))
    except (KeyError, TypeError, ValueError):
        return None
