"""What reading a pitch table found that every answer from it has to know.

A contradiction sets no row aside, because only whoever charted the game can say which column is wrong. But
a count that rests on a column which contradicts the others in many rows says nothing: it is withheld, and
below that the answer names how many. All of it goes with the table: in the :class:`~hitlab.pitches.Reading`,
in the mark of a saved file, in counts, claims and cards.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import pandas as pd

from hitlab.errors import CountsError
from hitlab.wording import listed, percent

__all__ = [
    "COARSE_MPH",
    "MOST_CONTRADICTED",
    "SUSPECTS",
    "Doubts",
    "Odd",
    "failed_rows",
    "left_out",
    "said_of_parts",
]

MOST_CONTRADICTED = 0.01
"""Share of the rows above which a column that contradicts others is not counted by.

People who chart a game by hand slip in about one row of a few hundred; a column that means something else
(the count after the pitch, the result on every pitch) contradicts the others in a third of the rows or more.
Common practice, no source. An argument: ``Conventions(most_contradicted=...)``."""

COARSE_MPH = 0.5
"""Steps between the speeds of a column beyond which a ball's side of a threshold is not told (a default).

A number tells its speed to half a step either way. A quarter of a mile an hour is less than devices are off
by (common practice, no source); the 0.31 of whole km/h and the 1.12 of whole m/s are not. A column of whole
miles an hour has the threshold itself among its numbers, and tells what is asked."""

SUSPECTS = {
    "count": ("balls", "strikes"),
    "swing flag": ("outcome",),
    "ending": ("result",),
    "dates": ("date",),
    "pitcher": ("pitcher", "pitcher_id"),
    "side": ("hitter_side",),
    "outs and bases": ("outs", "bases", "runs"),
    "balls and strikes": ("result",),
    "exit speed": ("exit_mph",),
    "hard": ("hard",),
}
"""Which columns a check puts in doubt. Names and clubs have sentences of their own: a row is no measure."""

_NAMED = 4  # parts that a phrase names

_ASKED = {
    "count": "the count",
    "swing flag": "the swing flag",
    "ending": "the result",
    "dates": "the date",
    "pitcher": "the pitcher",
    "balls and strikes": "the result",
    "exit speed": "the speed off the bat",
    "hard": "the tick for hard",
}


@dataclass(frozen=True, slots=True)
class Odd:
    """What is odd about names, days and speeds of a whole table, and is said of no part: sentences."""

    names: tuple[str, ...] = ()
    days: tuple[str, ...] = ()
    speeds: tuple[str, ...] = ()

    @property
    def sentences(self) -> tuple[str, ...]:
        """All of them."""
        return (*self.names, *self.days, *self.speeds)

    @property
    def phrases(self) -> tuple[str, ...]:
        """What of the names and the speeds goes with every answer."""
        return tuple(one.partition(". If")[0].rstrip(".") for one in (*self.names, *self.speeds))

    @property
    def of_days(self) -> tuple[str, ...]:
        """What of the days goes with the answers that ask for days."""
        return tuple(one.rstrip(".") for one in self.days)


@dataclass(frozen=True, slots=True)
class Doubts:
    """What is in doubt about a pitch table.

    Attributes
    ----------
    rows
        Rows of the table.
    contradicted
        Check -> rows of the table in which it fails: ``{"count": 12}``.
    said
        What else has to be known, one phrase each, such as ``449 of 6,055 rows are set aside``.
    of_days
        The same, of the dates alone; said where a question asks for days.
    steps
        Column that was in another unit -> how far apart two of its numbers are, in the table's unit: whole
        metres a second are 2.24 mph apart.
    failed
        What ``contradicted`` was decided by (:func:`failed_rows`): with it several tables add up.
    ordered
        Whether the pitches are ordered by their key.
    """

    rows: int = 0
    contradicted: Mapping[str, int] = field(default_factory=dict)
    said: tuple[str, ...] = ()
    of_days: tuple[str, ...] = ()
    steps: Mapping[str, float] = field(default_factory=dict)
    failed: Mapping[str, int] = field(default_factory=dict)
    ordered: bool = True

    @classmethod
    def found(
        cls,
        rows: int,
        contradictions: pd.DataFrame,
        said: Iterable[str],
        of_days: Iterable[str] = (),
        *,
        ordered: bool = True,
        steps: Mapping[str, float] | None = None,
    ) -> Doubts:
        """Take them from the contradictions of a table; several in one row are one row in doubt.

        A result that does not fit the count speaks against the result, but where the count contradicts the
        pitches before it at least as often, it is the count that is wrong. Where the pitches are not
        ``ordered`` by their key, nothing tells which of the two it is, and both are in doubt.
        """
        failed = failed_rows(contradictions)
        decided = _decided(failed, ordered)
        return cls(rows, decided, tuple(said), tuple(of_days), dict(steps or {}), failed, ordered)

    @classmethod
    def of_parts(
        cls, parts: Sequence[tuple[str, Doubts]], said: Iterable[str] = (), of_days: Iterable[str] = ()
    ) -> Doubts:
        """Add up what is in doubt about the parts of one table, which have no game in common.

        Contradictions lie within games, so that they add up check by check; which column they speak against
        is decided once for all. Of speeds in steps the coarsest count.

        Parameters
        ----------
        parts
            What each part is called, and its doubts.
        said, of_days
            What has to be known of the whole table beside.
        """
        failed: Counter[str] = Counter()
        steps: dict[str, float] = {}
        for _, one in parts:
            failed.update(one.failed)
            steps |= {name: max(step, steps.get(name, 0.0)) for name, step in one.steps.items()}
        ordered = any(one.ordered for _, one in parts)
        return cls(
            sum(one.rows for _, one in parts),
            _decided(failed, ordered),
            (*said, *said_of_parts([(name, one.said) for name, one in parts])),
            (*of_days, *said_of_parts([(name, one.of_days) for name, one in parts])),
            steps,
            dict(failed),
            ordered,
        )

    def reason(self, columns: Iterable[str], most: float) -> str:
        """Say why nothing can be counted by some columns; empty where it can.

        Parameters
        ----------
        columns
            What a count rests on.
        most
            Share of contradicting rows beyond which a column is not counted by.
        """
        worst = max(self._concerning(columns), key=lambda check: self.contradicted[check], default="")
        if not worst or self.contradicted[worst] <= most * self.rows:
            return ""
        return f"{self._failed(worst)}, more than {percent(most)}; `hitlab read` shows them"

    def phrases(self, columns: Iterable[str]) -> tuple[str, ...]:
        """Return what has to be said with counts that rest on some columns; nothing where all is well."""
        asked = set(columns)
        days = self.of_days if "date" in asked else ()
        return (*self.said, *days, *(self._failed(check) for check in self._concerning(asked)))

    def refuse(self, columns: Iterable[str], most: float, what: str) -> None:
        """Refuse what rests on columns that contradict others in too many rows.

        Raises
        ------
        CountsError
            With the check, the rows, and the mend.
        """
        reason = self.reason(columns, most)
        if reason:
            raise CountsError(
                f"{what} cannot be told: {reason}. Mend the column or its mapping, or allow more with "
                "most_contradicted="
            )

    def _concerning(self, columns: Iterable[str]) -> list[str]:
        asked = set(columns)
        return [check for check in self.contradicted if asked.intersection(SUSPECTS[check])]

    def _failed(self, check: str) -> str:
        number = self.contradicted[check]
        what = _ASKED.get(check, f"{' or '.join(SUSPECTS[check])}")
        share = percent(number / max(self.rows, 1))
        return f"{what} contradicts other columns in {number:,} of {self.rows:,} rows ({share})"

    def to_json(self) -> str:
        """Return it as text, as a saved table keeps it."""
        told: dict[str, Any] = {"rows": self.rows, "contradicted": dict(self.contradicted)}
        told |= {"said": self.said, "of_days": self.of_days, "steps": dict(self.steps)}
        return json.dumps({**told, "failed": dict(self.failed), "ordered": self.ordered})

    @classmethod
    def from_json(cls, text: str) -> Doubts:
        """Take it back from :meth:`to_json`; nothing is in doubt where the text says nothing.

        Tables that were saved before speeds had steps have none. Of those that do not tell what their
        contradictions were decided by, the decision stays as it was.
        """
        told = json.loads(text)
        counted = {check: int(n) for check, n in told["contradicted"].items() if check in SUSPECTS}
        said, of_days = (tuple(map(str, told[name])) for name in ("said", "of_days"))
        steps = {str(column): float(step) for column, step in told.get("steps", {}).items()}
        failed = {str(check): int(n) for check, n in told.get("failed", _as_decided(counted)).items()}
        ordered = bool(told.get("ordered", True))
        return cls(int(told["rows"]), counted, said, of_days, steps, failed, ordered)


_BY_COUNT = "ending by the count"
_OTHERWISE = "ending otherwise"
_EITHER = "count or ending by it"


def failed_rows(contradictions: pd.DataFrame) -> dict[str, int]:
    """Count the rows in which each check fails, and those by which it is decided what that speaks against.

    Parameters
    ----------
    contradictions
        Of :func:`hitlab.pitches.contradictions`, or of a report.

    Returns
    -------
    dict
        Check -> rows, several contradictions in one row being one row; none where there are none. Of tables
        that have no row in common they add up.
    """
    places = [name for name in ("file", "sheet", "row") if name in contradictions]
    # A row of its own for each place, whether its number runs through all files or not.
    rows = contradictions.groupby(places, sort=False).ngroup()
    checks = contradictions["check"]
    ending = checks == "ending"
    by_count = ending & contradictions["columns"].str.contains("balls").astype(bool)
    flags = {check: checks == check for check in SUSPECTS}
    flags |= {_BY_COUNT: by_count, _OTHERWISE: ending & ~by_count, _EITHER: flags["count"] | by_count}
    counted = {name: int(rows[flag].nunique()) for name, flag in flags.items()}
    return {name: number for name, number in counted.items() if number}


def _decided(failed: Mapping[str, int], ordered: bool) -> dict[str, int]:
    """Say which columns the rows that failed speak against."""
    found = {check: failed[check] for check in SUSPECTS if failed.get(check)}
    if not ordered:
        found |= {"count": failed[_EITHER]} if failed.get(_EITHER) else {}
    elif failed.get("count", 0) >= failed.get(_BY_COUNT, 0):
        found |= {"ending": failed.get(_OTHERWISE, 0)}
    return {check: found[check] for check in SUSPECTS if found.get(check)}


def _as_decided(contradicted: Mapping[str, int]) -> dict[str, int]:
    """Numbers by which it would be decided as it was."""
    told = {_OTHERWISE: contradicted.get("ending", 0), _EITHER: contradicted.get("count", 0)}
    return {name: number for name, number in {**contradicted, **told}.items() if number}


def left_out(read: int, set_aside: int, set_aside_for: Mapping[str, int]) -> str:
    """Say that rows are missing from what was read, as the counts would not show it; ``""`` where none is.

    Parameters
    ----------
    read, set_aside
        Rows.
    set_aside_for
        ``column: reason`` -> how often it set a row aside.
    """
    if not set_aside:
        return ""
    most = max(set_aside_for.items(), key=lambda item: item[1], default=("", 0))
    why = f", {most[1]:,} of them for this: {most[0]}" if most[1] else ""
    return f"{set_aside:,} of {read:,} rows are set aside, not counted{why}"


def said_of_parts(parts: Sequence[tuple[str, Iterable[str]]]) -> tuple[str, ...]:
    """Put together what is said of parts: once what is said of all, the rest with the part that it is of.

    Parameters
    ----------
    parts
        What each part is called, and its phrases.
    """
    names = list(dict.fromkeys(name for name, _ in parts))
    of: dict[str, set[str]] = {}
    for name, phrases in parts:
        for phrase in phrases:
            of.setdefault(phrase, set()).add(name)
    common = [phrase for phrase, who in of.items() if len(who) == len(names)]
    # By name, so that the order of adding says nothing.
    others = sorted((sorted(who), phrase) for phrase, who in of.items() if len(who) < len(names))
    return (*common, *(f"in {listed(_first_of(who))}: {phrase}" for who, phrase in others))


def _first_of(names: list[str]) -> list[str]:
    return names if len(names) <= _NAMED else [*names[: _NAMED - 1], f"{len(names) - _NAMED + 1:,} more"]
