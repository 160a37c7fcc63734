"""What names, days and speeds of a table show, as it is said of the table as a whole.

Two spellings of a name, and speeds of two units, may stand in two parts of a season. What a part shows is
kept in a form that adds up, so that the parts need not be gone through again where one is added.
"""

from __future__ import annotations

import base64
import json
import zlib
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import pandas as pd

from hitlab.pitches.dates import odd_years
from hitlab.pitches.doubts import Odd
from hitlab.pitches.identity import names_in, odd_names
from hitlab.pitches.speeds import Speeds, in_two_units, speeds_in
from hitlab.pitches.untold import days_in

__all__ = ["Seen"]


@dataclass(frozen=True)
class Seen:
    """What a table, or a part of one, shows.

    Attributes
    ----------
    names
        Column of names -> name -> rows.
    days
        Day, as 2031-05-04 -> rows.
    speeds
        Column of speeds -> what they show.
    """

    names: Mapping[str, Mapping[str, int]]
    days: Mapping[str, int]
    speeds: Mapping[str, Speeds]

    @classmethod
    def of(cls, frame: pd.DataFrame) -> Seen:
        """Look at a table that was read."""
        return cls(names_in(frame), days_in(frame), speeds_in(frame))

    @classmethod
    def together(cls, parts: Sequence[Seen]) -> Seen:
        """Add up what the parts of one table show, which have no game in common."""
        columns = dict.fromkeys(name for part in parts for name in part.names)
        names = {name: _added([part.names.get(name, {}) for part in parts]) for name in columns}
        of_speeds = dict.fromkeys(name for part in parts for name in part.speeds)
        speeds = {
            name: Speeds.together([part.speeds[name] for part in parts if name in part.speeds])
            for name in of_speeds
        }
        return cls(names, _added([part.days for part in parts]), speeds)

    @cached_property
    def odd(self) -> Odd:
        """What is odd about it."""
        return Odd(odd_names(self.names), odd_years(self.days), in_two_units(self.speeds))

    def games(self, rows: int) -> dict[str, int]:
        """Give the rows of each game in their order, and under ``""`` those of the rows without any."""
        games = dict(self.names.get("game", {}))
        rest = rows - sum(games.values())
        return {**games, "": rest} if rest else games

    def to_text(self) -> str:
        """Write it, for a file: JSON, made small, in signs that any reader of a Parquet file's mark bears."""
        speeds = {name: one.to_plain() for name, one in self.speeds.items()}
        told = json.dumps({"names": self.names, "days": self.days, "speeds": speeds}, separators=(",", ":"))
        return base64.b64encode(zlib.compress(told.encode(), 6)).decode("ascii")

    @classmethod
    def from_text(cls, text: str | bytes) -> Seen:
        """Read what :meth:`to_text` wrote.

        Raises
        ------
        ValueError, TypeError, KeyError, AttributeError
            Where it is something else.
        """
        try:
            told = json.loads(zlib.decompress(base64.b64decode(text, validate=True)))
        except zlib.error as error:
            raise ValueError(str(error)) from error
        speeds = {name: Speeds.from_plain(one) for name, one in told["speeds"].items()}
        return cls(told["names"], told["days"], speeds)


def _added(some: Sequence[Mapping[str, int]]) -> dict[str, int]:
    whole: Counter[str] = Counter()
    for one in some:
        whole.update(one)
    return dict(whole)
