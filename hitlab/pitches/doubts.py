"""What reading a pitch table found that every answer from it has to know.

A contradiction sets no row aside, because only whoever charted the game can say which column is wrong. But
a count that rests on a column which contradicts the others in many rows says nothing: it is withheld, and
below that the answer names how many. All of it goes with the table: in the :class:`~hitlab.pitches.Reading`,
in the mark of a saved file, in counts, claims and cards.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import pandas as pd

from hitlab.errors import CountsError
from hitlab.wording import percent

__all__ = ["MOST_CONTRADICTED", "SUSPECTS", "Doubts"]

MOST_CONTRADICTED = 0.01
"""Share of the rows above which a column that contradicts others is not counted by.

People who chart a game by hand slip in about one row of a few hundred; a column that means something else
(the count after the pitch, the result on every pitch) contradicts the others in a third of the rows or more.
Common practice, no source. An argument: ``Conventions(most_contradicted=...)``."""

SUSPECTS = {
    "count": ("balls", "strikes"),
    "swing flag": ("outcome",),
    "ending": ("result",),
    "dates": ("date",),
    "side": ("hitter_side",),
    "outs and bases": ("outs", "bases", "runs"),
    "balls and strikes": ("result",),
}
"""Which columns a check puts in doubt. Names and clubs have sentences of their own: a row is no measure."""

_ASKED = {
    "count": "the count",
    "swing flag": "the swing flag",
    "ending": "the result",
    "dates": "the date",
    "balls and strikes": "the result",
}


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
    """

    rows: int = 0
    contradicted: Mapping[str, int] = field(default_factory=dict)
    said: tuple[str, ...] = ()
    of_days: tuple[str, ...] = ()
    steps: Mapping[str, float] = field(default_factory=dict)

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
        places = [name for name in ("file", "sheet", "row") if name in contradictions]
        # A row of its own for each place, whether its number runs through all files or not.
        contradictions = contradictions.assign(row=contradictions.groupby(places, sort=False).ngroup())
        by_count = (contradictions["check"] == "ending") & contradictions["columns"].str.contains("balls")
        rows_of_count = contradictions.loc[contradictions["check"] == "count", "row"].nunique()
        if not ordered:
            either = contradictions[by_count].assign(check="count")
            contradictions = pd.concat([contradictions, either], ignore_index=True)
        elif rows_of_count >= contradictions.loc[by_count, "row"].nunique():
            contradictions = contradictions[~by_count]
        failed = contradictions.groupby("check", sort=False)["row"].nunique()
        counted = {str(check): int(number) for check, number in failed.items() if check in SUSPECTS}
        return cls(rows, counted, tuple(said), tuple(of_days), dict(steps or {}))

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
        told = {"rows": self.rows, "contradicted": dict(self.contradicted)}
        return json.dumps({**told, "said": self.said, "of_days": self.of_days, "steps": dict(self.steps)})

    @classmethod
    def from_json(cls, text: str) -> Doubts:
        """Take it back from :meth:`to_json`; nothing is in doubt where the text says nothing.

        Tables that were saved before speeds had steps have none.
        """
        told = json.loads(text)
        counted = {check: int(n) for check, n in told["contradicted"].items() if check in SUSPECTS}
        said, of_days = (tuple(map(str, told[name])) for name in ("said", "of_days"))
        steps = {str(column): float(step) for column, step in told.get("steps", {}).items()}
        return cls(int(told["rows"]), counted, said, of_days, steps)
