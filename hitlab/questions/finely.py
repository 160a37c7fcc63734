"""What counts by game, season and what hitters faced tell of one rate; kept where counts of pitches are kept.

To take many seasons apart by game and pitcher, and to fit what hitters faced, takes far longer than to count
a hitter's swings, and is the same for every claim about the rate. What comes of it are some numbers a hitter.
They are kept beside a folder of saved tables (:mod:`hitlab.pitches.kept_numbers`), under all of its parts and
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

from hitlab.counting.counts import Counts
from hitlab.errors import CountsError
from hitlab.estimates.crossed import Drawn, fit_crossed
from hitlab.estimates.faced import Unequal, meetings_told, unequal
from hitlab.over_time.dependence import Crowded, Overdispersion, crowded, overdispersed
from hitlab.over_time.seasons import each_season
from hitlab.over_time.stretches import by_game, hitter_key, hitter_totals
from hitlab.pitches.kept_numbers import KeptNumbers, numbers
from hitlab.questions.seasons import by_season
from hitlab.questions.source import Source

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
    def _kept(self) -> KeptNumbers:
        relation = None if self.counted is not None else self.source.frame.to_native()
        return KeptNumbers(relation, self._way, (_ALIKE, _FACED, _SEASONS), _MOST_RATES)

    def _way(self) -> str:
        import scipy

        asked = (self.source.question.subject, self.source.rate, self.chosen, self.columns)
        by = self.source.question.conventions, self.counts.fingerprint
        return json.dumps([*map(repr, (*asked, *by)), np.__version__, scipy.__version__])

    def alike(self) -> Overdispersion | None:
        """Say how much alike attempts of a game are; ``None`` where that cannot be told."""
        event, per = self.source.rate
        try:
            found = self._kept.take(_ALIKE, self._crowded_of)
            if found is None:
                games = self._detail.summed((hitter_key(self._detail), "game"))
                found = crowded(by_game(games, event, per))
                self._kept.put(_ALIKE, **{one.name: getattr(found, one.name) for one in fields(Crowded)})
        except CountsError:
            return None
        return overdispersed(self.counts, event, per, found)

    def against(self) -> Against:
        """Tell what hitters faced."""
        found = self._kept.take(_FACED, self._against_of)
        if found is None:
            return self._anew()
        words, apart, drawn = found
        return Against(words, apart, lambda: self._anew().draw() if drawn is None else drawn)

    def _anew(self) -> Against:
        found = Against.of(self._detail, self.source.games, *self.source.rate)
        apart = found.apart
        told: dict[str, Any] = {"words": found.words}
        told |= {} if apart is None else {"apart": np.stack([apart.log_odds, apart.error])}
        self._kept.put(_FACED, **told)

        def draw() -> Drawn:
            drawn = found.draw()
            self._kept.put(_FACED, **told, **{one.name: getattr(drawn, one.name) for one in fields(Drawn)})
            return drawn

        return Against(found.words, apart, draw)

    def by_season(self) -> pd.DataFrame:
        """Give the events and the attempts of each in each season; ``place`` is that in the counts."""
        found = self._kept.take(_SEASONS, self._seasons_of)
        if found is None:
            counts = by_season(self.source, *self.chosen)
            found = each_season(counts, counts.by[-1], *self.source.rate)
            key = pd.Index(self.counts.data[self.counts.by[0]])
            found.insert(0, "place", key.get_indexer(found.pop(counts.by[0])))
            self._kept.put(_SEASONS, **{str(name): found[name].to_numpy() for name in found})
        return found

    # What was kept is taken back if it can be of so many hitters.

    def _crowded_of(self, told: dict[str, Any]) -> Crowded:
        others = numbers(told["others"])
        if len(others) != len(self.counts.data):
            raise ValueError("these are of other hitters")
        measured = float(told["correlation"]), float(told["standard_error"])
        return Crowded(others, *measured, int(told["pairs"]), int(told["left_out"]))

    def _seasons_of(self, told: dict[str, Any]) -> pd.DataFrame:
        places, events, exposure = (numbers(told[name], np.int64) for name in ("place", "events", "exposure"))
        if (places >= len(self.counts.data)).any() or (events < 0).any() or (events > exposure).any():
            raise ValueError("these are of other hitters")
        names = [str(name) for name in told["season"]]
        return pd.DataFrame({"place": places, "season": names, "events": events, "exposure": exposure})

    def _against_of(self, told: dict[str, Any]) -> tuple[str, Unequal | None, Drawn | None]:
        if not told["words"]:
            return "", None, None
        hitters = len(self.counts.data)
        apart = Unequal(*numbers(told["apart"]).reshape(2, hitters))
        if "weights" not in told:
            return str(told["words"]), apart, None
        names = [one.name for one in fields(Drawn) if one.name != "useful"]
        arrays = {name: numbers(told[name]) for name in names}
        many = len(arrays["weights"])
        for name in names[1:]:
            by_hitter = name not in ("effects", "deviations")
            arrays[name] = arrays[name].reshape(many, hitters if by_hitter else -1)
        return str(told["words"]), apart, Drawn(**arrays, useful=float(told["useful"]))
