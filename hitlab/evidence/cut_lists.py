"""The cut list: the pitches behind a claim, a split or a pattern, and those that speak against it.

What supports and what speaks against, by kind:

- ``above``, ``leads``, ``top``: the hitter's events support (hard-hit balls); what else is in the rate's
  denominator speaks against (of swings: whiffs, then soft contact, then fouls).
- ``ahead``: the hitter's events support, the other hitter's events speak against.
- ``hot``: the hitter's events in the last games support; what else is in the denominator there speaks
  against.
- ``split``, ``more`` (since a day), or a situation: the events in the situation support; what else is in the
  denominator there, and the events outside it, speak against.
- ``response``: the whiff and the next pitch, where the response was as claimed, and where it was not.
- ``spot``: the ends of the hitter's plate appearances with these bases and outs, whatever the score: one
  without an out supports, one with an out speaks against, as the claim's nine outcomes count them; what is
  none of the nine (sacrifice bunts, catcher's interference) is on neither side.
- a pattern: where it occurs, and where all of it but the last step does.

What two charters tell differently is for nothing and against nothing: its pitches are to be looked at again,
in order of play.

A ball whose hardness is unknown is on neither side, and counted. The order is that of a story: what supports
first, then what speaks against; on each side first what says most (hard-hit balls from the fastest down,
then as listed above, soft contact from the slowest up), and of equals the latest first. A claim that does
not hold has the same two sides: they belong to the sentence, not to the verdict.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.approach.patterns import Found, Pattern
from hitlab.approach.sequence import eager, with_previous
from hitlab.charting.charters import Charters
from hitlab.claims.result import Claim
from hitlab.counting.events import rate_words
from hitlab.counting.facts import Conventions
from hitlab.counting.situations import Situation
from hitlab.errors import ClaimError
from hitlab.evidence.shots import Shots, of_claim, of_pattern, of_situation, whose
from hitlab.evidence.time_codes import CODE, frame_rate
from hitlab.optional import load
from hitlab.pitches.opening import demand_here, file_of
from hitlab.questions.source import asks_before
from hitlab.results import Listing, Part, Table, save_table
from hitlab.showing import shown_name
from hitlab.writing import files_read, write_file

__all__ = ["AGAINST", "SUPPORTS", "CutList", "cut_list"]

_MOST_SHOWN = 12  # pitches
SUPPORTS, AGAINST = "supports", "speaks against"
_AGAIN = "look again"

# File, blank, and a time code.
_CLIP = re.compile(rf"(?P<file>\S.*?)\s+(?P<code>{CODE})\s*")
_CLIP_FORM = "a file, a blank, and hours:minutes:seconds with :frames or not, such as game.mp4 00:12:31:05"
_SHOWN = (
    *("game", "date", "inning", "half", "plate_appearance", "pitch", "balls", "strikes"),
    *("hitter", "pitcher", "pitch_kind", "outcome", "exit_mph", "clip"),
)


@dataclass(frozen=True, eq=False, slots=True)
class CutList(Listing):
    """Pitches to cut from the video, for and against.

    Attributes
    ----------
    about
        What they are about, in words.
    rule
        What supports it, and what speaks against it.
    data
        One row a pitch, in order of use: ``place`` (from 1), ``shot`` (pitches that belong together share a
        number), ``side`` (``supports``, ``speaks against`` or ``look again``), ``why``, what of game, date,
        inning, half,
        plate appearance, pitch, balls, strikes, hitter, pitcher, kind, outcome and exit speed the table has,
        ``clip``, ``file`` and ``time_code`` (missing where the clip is not of the form accepted), ``row``
        (in the table, from 0).
    unknown
        Pitches on neither side because hardness is unknown.
    left_out
        Shots beyond the number asked for.
    source
        The file that the pitches are from; empty where they are from none.
    """

    about: str
    rule: str
    data: pd.DataFrame
    unknown: int
    left_out: int
    source: str = ""

    @property
    def without_time_code(self) -> int:
        """How many pitches cannot be found in a video file: no clip, or one of another form."""
        return int(self.data["time_code"].isna().sum())

    def save(
        self,
        path: str | PathLike[str],
        *,
        frames_per_second: float | str = 30.0,
        before_s: float = 2.0,
        after_s: float = 6.0,
    ) -> Path:
        """Write the list as a table or as an edit timeline (``.otio``).

        The timeline is written through OpenTimelineIO: one video track, the pitches in order, each clip with
        its file, its place in the file, and in its metadata what the list says of it. Pitches without a
        time code are in the table only.

        Parameters
        ----------
        path
            The file; its ending decides: ``.otio``, or one of those of :meth:`hitlab.results.Result.save`.
        frames_per_second
            Of the video, in which a time code's frames are counted: a number, or where it is 29.97 or 59.94
            a name that says how (``"29.97-drop"``, ``"29.97-non-drop"``, ``"59.94-drop"``,
            ``"59.94-non-drop"``). The timeline says which was meant.
        before_s, after_s
            Seconds of video before and after the time code.

        Raises
        ------
        ClaimError
            Where a time code cannot be, or none is there for a timeline.
        HitlabError
            Where the ending is another one.
        MissingPackageError
            Where OpenTimelineIO, or XlsxWriter, is needed and not installed.
        ReadingError
            Where the file cannot be written.
        """
        path = Path(path)
        if path.suffix.lower() != ".otio":
            return save_table(self.data, path, ", or .otio for a timeline", inputs=(self.source,))
        timeline = self._timeline(frames_per_second, before_s, after_s)
        return write_file(path, timeline.to_json_string().encode(), inputs=(self.source, *files_read()))

    def _timeline(self, told: float | str, before_s: float, after_s: float) -> Any:
        counting = frame_rate(told)
        rate = counting.per_second
        otio = load("opentimelineio", "edit timelines (a .csv needs nothing)", "timeline")
        if not (before_s >= 0 and after_s > 0):
            raise ClaimError(
                f"before_s={before_s!r}, after_s={after_s!r}: give seconds that are not negative, after_s "
                "above 0"
            )
        found = self.data[self.data["time_code"].notna()]
        if found.empty:
            raise ClaimError(
                f"none of the {len(self)} pitches has a clip with file and time code, so there is no "
                f"timeline. The accepted form is {_CLIP_FORM}"
            )
        track = otio.schema.Track("pitches", kind=otio.schema.TrackKind.Video)
        for pitch in found.to_dict("records"):
            moment = counting.frame_of(str(pitch["time_code"]))
            start = max(moment - before_s * rate, 0.0)
            frames = (round(value) for value in (start, moment + after_s * rate - start))
            first, length = (otio.opentime.RationalTime(value, rate) for value in frames)
            track.append(
                otio.schema.Clip(
                    name=f"{pitch['place']} {pitch['side']}: {pitch['why']}, {shown_name(pitch['hitter'])}",
                    media_reference=otio.schema.ExternalReference(target_url=str(pitch["file"])),
                    source_range=otio.opentime.TimeRange(first, length),
                    metadata={"hitlab": {name: _plain(value) for name, value in pitch.items()}},
                )
            )
        timeline = otio.schema.Timeline(self.about)
        timeline.tracks.append(track)
        timeline.metadata["hitlab"] = {"about": self.about, "rule": self.rule, "video": counting.words}
        return timeline

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of: how many pitches there are on each side, too."""
        sides = self.data.drop_duplicates("shot")["side"].value_counts()
        counted = (
            f"{int(sides[_AGAIN]):,} to look at again"
            if _AGAIN in sides
            else f"{int(sides.get(SUPPORTS, 0)):,} for it, {int(sides.get(AGAINST, 0)):,} against it"
        )
        lines = [f"Cut list: {self.about}", f"{counted}. {self.rule}"]
        if self.unknown:
            lines.append(f"{self.unknown:,} on neither side: hardness unknown.")
        if self.left_out:
            lines.append(f"{self.left_out:,} more were left out by most=.")
        if self.without_time_code:
            lines.append(f"{self.without_time_code:,} pitches have no file and time code.")
        if len(self.data) > _MOST_SHOWN:
            lines.append(f"The first {_MOST_SHOWN} of {len(self.data):,} pitches:")
        return [*lines, Table(self.table_for_people(), missing="")]

    def table_for_people(self) -> pd.DataFrame:
        """Return the first pitches: which they are, the side that they are on, and why."""
        shown = ("place", "side", "why", "game", "inning", "half", "hitter", "clip")
        return self.data[[name for name in shown if name in self.data]].head(_MOST_SHOWN)


def _plain(value: Any) -> Any:
    """Return a value that a timeline's metadata takes."""
    if pd.isna(value):
        return None
    if isinstance(value, str | bool | int | float):
        return value
    return value.item() if isinstance(value, np.generic) else str(value)


def cut_list(
    pitches: Any,
    what: Claim | Pattern | Found | Situation | Charters,
    *,
    hitter: str | None = None,
    situation: Situation | None = None,
    event: str = "hard",
    per: str = "swings",
    most: int | None = None,
    conventions: Conventions | None = None,
) -> CutList:
    """List the pitches that support something and those that speak against it.

    Parameters
    ----------
    pitches
        The pitch table that the claim was checked on: as for :func:`hitlab.approach.with_previous`.
    what
        A checked claim, a pattern (or what :func:`hitlab.approach.find_sequences` found of it, in this
        very table), or a situation, which asks for ``event`` per ``per`` inside it; or what two charters tell
        differently, where ``pitches`` is the first one's table.
    hitter
        Only this hitter, by id, name or some words of the name. A claim names its own.
    situation
        The situation of a split claim: a claim knows it in words only.
    event, per
        For a situation.
    most
        At most so many shots a side; ``None`` for all.
    conventions
        How the debatable cases are counted; those that the claim was checked with.

    Returns
    -------
    CutList
        The pitches in the order of a story, both sides; its ``save`` writes a table or an edit timeline.

    Raises
    ------
    ClaimError
        Where no list can be made of it; the message says why and what to do.
    MissingColumnsError, CountsError, ReadingError
        Where the table cannot tell.

    Examples
    --------
    >>> from hitlab import check_above, demo_season
    >>> season = demo_season()
    >>> claim = check_above(season, "Nadia Izezno", 0.12)
    >>> print(cut_list(season, claim, most=1).table()[["side", "why", "clip"]].to_string(index=False))
              side      why                   clip
          supports hit hard game-0116.mp4 02:25:30
    speaks against    whiff game-0351.mp4 02:43:22
    """
    if most is not None and most < 1:
        raise ClaimError(f"most={most!r}: give a whole number of 1 or more, or None for all")
    demand_here(pitches, "a cut list")
    frame = eager(pitches)[0]
    if isinstance(what, Charters):
        return _to_look_at(frame, what, most, file_of(pitches))
    before = asks_before(what.question) if isinstance(what, Claim) else _before(what)
    if before or _before(situation):
        frame = nw.from_native(with_previous(frame.to_native()), eager_only=True)
    if isinstance(what, Claim):
        shots = of_claim(frame, what, situation, conventions)
    elif isinstance(what, Situation):
        mine = whose(frame, hitter)
        shots = of_situation(frame, what, mine, event, per, conventions)
        name = "" if hitter is None else f", {shown_name(frame['hitter'].to_numpy()[mine][0])}"
        shots.about = f"{rate_words(event, per)} {what.words}{name}"
    elif isinstance(what, Pattern | Found):
        shots = of_pattern(frame, what, whose(frame, hitter), conventions)
    else:
        raise ClaimError(
            f"a {type(what).__name__} has no cut list; give a claim, a pattern or a situation, such as "
            'situation("strikes=2")'
        )
    return _listed(frame, shots, most, file_of(pitches))


def _to_look_at(frame: nw.DataFrame[Any], charters: Charters, most: int | None, source: str) -> CutList:
    """List what two charters tell differently.

    A pitch that the first has not is looked for at the one before.
    """
    told = charters.look_again
    in_order = charters.pairs.set_index(["first_row", "second_row"])
    before = charters.pairs["first_row"].ffill().bfill()
    place = pd.Series(before.to_numpy(), index=in_order.index).reindex(
        pd.MultiIndex.from_frame(told[["first_row", "second_row"]])
    )
    kept = place.to_numpy(dtype=float)[:most].astype(int)
    if len(kept) and kept.max() >= len(frame):
        raise ClaimError("pitches: this is not the first charter's table; give that one")
    shown = [name for name in _SHOWN if name in frame.columns]
    table = frame[kept.tolist(), shown].to_pandas().reset_index(drop=True)
    number = np.arange(1, len(table) + 1)
    table.insert(0, "place", number)
    table.insert(1, "shot", number)
    table.insert(2, "side", _AGAIN)
    table.insert(3, "why", told["why"].to_numpy()[: len(table)])
    table = _with_clips(table).assign(row=kept)
    rule = "Pitches of one chart alone, and those that the two tell differently, in order of play."
    return CutList("what two charters tell differently", rule, table, 0, len(told) - len(table), source)


def _with_clips(table: pd.DataFrame) -> pd.DataFrame:
    clips = table["clip"] if "clip" in table else pd.Series([None] * len(table), dtype=object)
    parts = [_CLIP.fullmatch(str(clip)) for clip in clips]
    for column, group in (("file", "file"), ("time_code", "code")):
        table[column] = pd.Series([part[group] if part else None for part in parts], dtype=object)
    return table


def _before(what: Any) -> bool:
    return isinstance(what, Situation) and "previous_whiff" in what.columns


def _listed(frame: nw.DataFrame[Any], shots: Shots, most: int | None, source: str) -> CutList:
    """Put shots into the order of a story, and each into its pitches."""
    shown = [name for name in _SHOWN if name in frame.columns]
    ends = frame[shots.last.tolist(), shown].to_pandas().reset_index(drop=True)
    keys: dict[str, Any] = {"side": ~shots.supports, "rank": shots.rank}
    if "exit_mph" in ends and len(ends):
        # Fastest first where it supports, slowest first where it speaks against; not measured last.
        speed = ends["exit_mph"].astype(float)
        keys["speed"] = speed.where(~shots.supports, -speed)
    for name in ("date", "game", "plate_appearance", "pitch"):
        if name in ends:
            keys[name] = -ends[name].rank(method="dense", na_option="bottom").astype(float)
    order = pd.DataFrame(keys).sort_values(list(keys), kind="stable", na_position="last").index.to_numpy()
    number = np.zeros(len(order), dtype=np.int64)
    for side in (True, False):
        number[shots.supports[order] == side] = np.arange(1, (shots.supports == side).sum() + 1)
    kept = order if most is None else order[number <= most]
    pairs = shots.first[kept] != shots.last[kept]
    shot = np.repeat(np.arange(1, len(kept) + 1), 1 + pairs)
    opens = np.append(True, shot[1:] != shot[:-1])[: len(shot)] & np.repeat(pairs, 1 + pairs)
    at = np.repeat(kept, 1 + pairs)
    rows = np.where(opens, shots.first[at], shots.last[at])
    table = frame[rows.tolist(), shown].to_pandas().reset_index(drop=True)
    table.insert(0, "place", np.arange(1, len(table) + 1))
    table.insert(1, "shot", shot)
    table.insert(2, "side", np.where(shots.supports[at], SUPPORTS, AGAINST))
    table.insert(3, "why", np.where(opens, shots.before, shots.why[at]))
    table = _with_clips(table)
    table["row"] = rows
    return CutList(shots.about, shots.rule, table, shots.unknown, len(order) - len(kept), source)
