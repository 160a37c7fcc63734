"""What a saved table remembers of each reading that it was made of, game by game.

A season is saved in parts, one a weekend. What reading left in doubt is kept of each part and each game in
it, so that a game can be taken out, or another put in its place, and the table's own mark is still the sum of
what is in it.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import pandas as pd

from hitlab.pitches.coded import Coded
from hitlab.pitches.doubts import Doubts, Odd, failed_rows, left_out, said_of_parts
from hitlab.pitches.origin import Source
from hitlab.pitches.report import Reading, Report
from hitlab.pitches.schema import SCHEMA_VERSION
from hitlab.pitches.seen import Seen
from hitlab.pitches.storing import DOUBTS, MARK, PARTS

__all__ = [
    "OfGame",
    "Part",
    "doubts_together",
    "mark_of",
    "part_of",
    "parts_in_mark",
]

UNTOLD = ""
"""Stands for the game of what could not be told game by game."""


@dataclass(frozen=True, slots=True)
class OfGame:
    """What reading found in one game of a part.

    Attributes
    ----------
    rows
        Rows of it in the table.
    set_aside, values_made_missing
        As in the report.
    set_aside_for
        ``column: reason`` -> how often it set a row aside.
    failed
        See :func:`hitlab.pitches.doubts.failed_rows`.
    """

    rows: int = 0
    set_aside: int = 0
    values_made_missing: int = 0
    set_aside_for: Mapping[str, int] = field(default_factory=dict)
    failed: Mapping[str, int] = field(default_factory=dict)

    @property
    def in_doubt(self) -> bool:
        """Whether there is more to it than its rows."""
        return bool(self.set_aside or self.values_made_missing or self.failed)


@dataclass(frozen=True, slots=True)
class Part:
    """What is remembered of one reading.

    Attributes
    ----------
    source
        Name of the file, the folder, or the kind of frame.
    games
        Game -> what was found in it; what no game is told for stands under ``""``.
    files
        SHA-256 of each of its files; none where they are not known, or some of what they hold was replaced.
    questions, assumed, cannot_tell
        As in the report.
    said, of_days
        What every answer has to know beside numbers, see :class:`hitlab.pitches.doubts.Doubts`.
    steps, ordered
        Of the doubts, too.
    """

    source: str
    games: Mapping[str, OfGame]
    files: tuple[str, ...] = ()
    questions: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    cannot_tell: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    of_days: tuple[str, ...] = ()
    steps: Mapping[str, float] = field(default_factory=dict)
    ordered: bool = True

    @property
    def doubts(self) -> Doubts:
        """What is in doubt about it, but for the rows set aside."""
        failed: Counter[str] = Counter()
        for one in self.games.values():
            failed.update(one.failed)
        rows = sum(one.rows for one in self.games.values())
        return Doubts(rows, {}, self.said, self.of_days, self.steps, dict(failed), self.ordered)

    def without(self, games: Collection[str], *, forget: bool) -> Part | None:
        """Give it without some games, and without its files where they are to be forgotten; None if empty."""
        if not set(games) & set(self.games):
            return self
        left = {name: one for name, one in self.games.items() if name not in games}
        if not any(one.rows for one in left.values()):
            return None
        return replace(self, games=left, files=() if forget else self.files)


def part_of(
    reading: Reading, origin: Source | None = None, files: Iterable[str] = (), seen: Seen | None = None
) -> Part:
    """Take from a reading what is remembered of it.

    Parameters
    ----------
    reading
        The reading.
    origin
        Its source, opened once more, whose rows tell where each row of the table stood. Without it they are
        taken for numbered through; where that cannot be, what is in doubt is told of no single game.
    files
        SHA-256 of its files.
    seen
        What names, days and speeds of its table show; looked for where left out.
    """
    from hitlab.pitches.sources import checked_to_pandas

    report = reading.report
    table = reading.table
    if seen is not None and isinstance(table, pd.DataFrame):  # of what it shows no more is asked
        table = table[[name for name in ("game",) if name in table]]
    frame = checked_to_pandas(table)[0].reset_index(drop=True)
    odd = (Seen.of(frame) if seen is None else seen).odd
    doubts = report.doubts
    first = left_out(report.rows_read, report.rows_set_aside, report.set_aside_for)
    said = doubts.said[1:] if first else doubts.said  # the sentence about rows set aside comes first
    return Part(
        report.source,
        _by_game(reading, frame, origin),
        tuple(files),
        report.questions,
        report.assumed,
        _but(report.cannot_tell, odd.sentences),
        _but(said, odd.phrases),
        _but(doubts.of_days, odd.of_days),
        doubts.steps,
        doubts.ordered,
    )


def _but(some: Iterable[str], others: Collection[str]) -> tuple[str, ...]:
    return tuple(one for one in some if one not in others)


def doubts_together(parts: Sequence[Part], odd: Odd, order: Sequence[str] = ()) -> Doubts:
    """Add up what is in doubt about the parts of one table.

    Parameters
    ----------
    parts
        What is remembered of each reading.
    odd
        What is odd about the whole table.
    order
        The games, as they follow each other in the table: of reasons that are equally frequent the first
        counts, as in one reading.
    """
    place = {name: at for at, name in enumerate(order)}
    named = [(place.get(name, len(place)), one) for part in parts for name, one in part.games.items()]
    games = [one for _, one in sorted(named, key=lambda item: item[0])]
    reasons: Counter[str] = Counter()
    for one in games:
        reasons.update(one.set_aside_for)
    aside = sum(one.set_aside for one in games)
    read = aside + sum(one.rows for one in games)
    sentence = left_out(read, aside, reasons)
    said = (*([sentence] if sentence else ()), *odd.phrases)
    return Doubts.of_parts([(part.source, part.doubts) for part in parts], said, odd.of_days)


def mark_of(parts: Sequence[Part], odd: Odd, order: Sequence[str] = ()) -> dict[str, str]:
    """Write the mark of a saved table: the sum of its parts, and the parts.

    Parameters
    ----------
    parts, odd, order
        As in :func:`doubts_together`.
    """
    games = [one for part in parts for one in part.games.values()]
    aside = sum(one.set_aside for one in games)

    def together(of: str) -> tuple[str, ...]:
        return said_of_parts([(part.source, getattr(part, of)) for part in parts])

    return {
        MARK: str(SCHEMA_VERSION),
        "hitlab_source": "; ".join(dict.fromkeys(part.source for part in parts)),
        "hitlab_rows_read": str(aside + sum(one.rows for one in games)),
        "hitlab_rows_set_aside": str(aside),
        "hitlab_values_made_missing": str(sum(one.values_made_missing for one in games)),
        DOUBTS: doubts_together(parts, odd, order).to_json(),
        "hitlab_questions": json.dumps(together("questions")),
        "hitlab_assumed": json.dumps(together("assumed")),
        "hitlab_cannot_tell": json.dumps((*together("cannot_tell"), *odd.sentences)),
        PARTS: json.dumps([_told(part) for part in parts]),
    }


def parts_in_mark(mark: Mapping[bytes, bytes], rows: Mapping[str, int], odd: Odd) -> list[Part]:
    """Take the parts out of a mark; a table that was saved without any is one part.

    Parameters
    ----------
    mark
        The metadata of the file.
    rows
        Game -> its rows in the table.
    odd
        What is odd about the whole table.
    """
    if PARTS.encode() in mark:
        return [_from_told(one) for one in json.loads(mark[PARTS.encode()])]

    def told(name: str) -> Any:
        return json.loads(mark.get(f"hitlab_{name}".encode(), b"[]"))

    doubts = Doubts.from_json(mark[DOUBTS.encode()].decode()) if DOUBTS.encode() in mark else Doubts()
    aside, missing = (
        int(mark.get(f"hitlab_{name}".encode(), b"0")) for name in ("rows_set_aside", "values_made_missing")
    )
    said = list(_but(doubts.said, odd.phrases))
    reasons: dict[str, int] = {}
    if aside and said:  # of the reasons it names the most frequent alone
        _, _, most = said.pop(0).partition(" not counted, ")
        number, found, reason = most.partition(" of them for this: ")
        reasons = {reason: int(number.replace(",", ""))} if found else {}
    untold = OfGame(0, aside, missing, reasons, doubts.failed)
    games = {name: OfGame(number) for name, number in rows.items()}
    return [
        Part(
            mark.get(b"hitlab_source", b"").decode(),
            _with_untold(games, untold),
            (),
            tuple(told("questions")),
            tuple(told("assumed")),
            _but(told("cannot_tell"), odd.sentences),
            tuple(said),
            _but(doubts.of_days, odd.of_days),
            doubts.steps,
            doubts.ordered,
        )
    ]


def _by_game(reading: Reading, frame: pd.DataFrame, origin: Source | None) -> dict[str, OfGame]:
    """Give what was found in each game; a row set aside that names none is of the game of the row before."""
    report = reading.report
    games = Coded(frame, "game")
    names = np.array([*games.found, UNTOLD], dtype=object)
    codes = np.where(games.among((UNTOLD,)), len(games.found), games.codes)
    counts = np.bincount(codes, minlength=len(names))
    rows = {str(names[code]): int(counts[code]) for code in pd.unique(codes)}
    games_alone = {name: OfGame(number) for name, number in rows.items()}
    aside = reading.set_aside
    if not len(aside) and not len(report.contradictions):
        return games_alone
    whole = aside[aside["action"] == "row set aside"]
    placed = _placed(report, origin)
    at = [name for name in ("file", "sheet", "row") if name in placed]
    dropped = whole.drop_duplicates(at)[at] if len(whole) else whole[at]
    is_dropped = placed.merge(dropped.assign(dropped=True), how="left", on=at)["dropped"].notna().to_numpy()
    if int((~is_dropped).sum()) != len(frame) or int(is_dropped.sum()) != report.rows_set_aside:
        untold = OfGame(
            0,
            report.rows_set_aside,
            report.values_made_missing,
            report.set_aside_for,
            failed_rows(report.contradictions),
        )
        return _with_untold(games_alone, untold)
    found = np.full(len(placed), None, dtype=object)
    found[~is_dropped] = names[codes]
    found[is_dropped] = _own_games(whole, placed[is_dropped], at, report, rows)
    placed["game"] = found
    # Within its file and sheet first.
    beside = [name for name in at if name != "row"]
    for within in [beside, []] if beside else [[]]:
        for way in ("ffill", "bfill"):
            near = placed.groupby(within) if within else placed.groupby(np.zeros(len(placed)))
            placed["game"] = near["game"].transform(way)

    def games_at(found: pd.DataFrame) -> np.ndarray:
        return found[at].merge(placed, how="left", on=at)["game"].to_numpy()

    told = whole["column"].astype(str) + ": " + whole["reason"].astype(str)
    decisive = told.isin(list(report.set_aside_for))
    told = told[decisive]
    why = {str(name): Counter(found) for name, found in told.groupby(games_at(whole[decisive]))}
    number_aside = Counter(games_at(dropped))
    number_missing = Counter(games_at(aside[aside["action"] == "value made missing"]))
    wrong = report.contradictions
    failed = {str(name): failed_rows(found) for name, found in wrong.groupby(games_at(wrong), sort=False)}
    return {
        name: OfGame(
            number, number_aside[name], number_missing[name], dict(why.get(name, {})), failed.get(name, {})
        )
        for name, number in rows.items()
    }


def _own_games(
    aside: pd.DataFrame, places: pd.DataFrame, at: list[str], report: Report, games: Collection[str]
) -> np.ndarray:
    """Give the game that stands in each row set aside, where it is one that is there, else None."""
    column = f"source: {report.used.get('game')}"
    if column not in aside:
        return np.full(len(places), None, dtype=object)
    own = aside.drop_duplicates(at)[[*at, column]]
    told = places[at].merge(own, how="left", on=at)[column].astype(str).str.strip()
    return told.where(told.isin(list(games)), None).to_numpy(dtype=object)


def _with_untold(games: dict[str, OfGame], untold: OfGame) -> dict[str, OfGame]:
    if not untold.in_doubt:
        return games
    rows = games[UNTOLD].rows if UNTOLD in games else 0
    return {**games, UNTOLD: replace(untold, rows=rows)}


def _placed(report: Report, origin: Source | None) -> pd.DataFrame:
    """Give the place of every row that was read, in order: file and sheet where there are several, row."""
    if origin is not None:
        rows = np.sort(np.concatenate([origin.rows, [one.row for one in origin.ragged]]).astype(np.int64))
        return origin.where(rows) if origin.parts else pd.DataFrame({"row": rows})
    parts = report.parts[report.parts["note"] == ""] if len(report.parts) else report.parts
    if not len(parts):
        return pd.DataFrame({"row": np.arange(1, report.rows_read + 1)})
    each = [
        pd.DataFrame({"file": one["file"], "sheet": one["sheet"], "row": np.arange(1, one["read"] + 1)})
        for one in parts.to_dict("records")
    ]
    return pd.concat(each, ignore_index=True)


def _told(part: Part) -> dict[str, Any]:
    """Give a part as a saved table keeps it, without what is nothing."""
    games = {
        name: {
            key: value
            for key, value in (
                ("rows", one.rows),
                ("set_aside", one.set_aside),
                ("made_missing", one.values_made_missing),
                ("for", dict(one.set_aside_for)),
                ("failed", dict(one.failed)),
            )
            if value
        }
        for name, one in part.games.items()
    }
    beside = ("files", "questions", "assumed", "cannot_tell", "said", "of_days")
    lists = {name: list(getattr(part, name)) for name in beside}
    return {
        "source": part.source,
        "rows_read": sum(one.rows + one.set_aside for one in part.games.values()),
        **lists,
        "steps": dict(part.steps),
        "ordered": part.ordered,
        "games": games,
    }


def _from_told(told: Mapping[str, Any]) -> Part:
    games = {
        str(name): OfGame(
            int(one.get("rows", 0)),
            int(one.get("set_aside", 0)),
            int(one.get("made_missing", 0)),
            {str(reason): int(times) for reason, times in one.get("for", {}).items()},
            {str(check): int(times) for check, times in one.get("failed", {}).items()},
        )
        for name, one in told["games"].items()
    }
    beside = ("files", "questions", "assumed", "cannot_tell", "said", "of_days")
    lists = {name: tuple(map(str, told[name])) for name in beside}
    steps = {str(name): float(step) for name, step in told["steps"].items()}
    return Part(str(told["source"]), games, **lists, steps=steps, ordered=bool(told["ordered"]))
