"""Read a pitch table from a file or a data frame, check every row, and say what was found.

>>> import pandas as pd
>>> from hitlab import read_pitches
>>> sheet = pd.DataFrame({"who": ["Ada Frusk", "Ada Frusk"], "what": ["swing and miss", "b"]})
>>> mapping = {
...     "columns": {"who": "hitter", "what": "outcome"},
...     "words": {"outcome": {"swing and miss": "whiff", "b": "ball"}},
... }
>>> print(read_pitches(sheet, mapping).table.to_string(index=False))
   hitter outcome
Ada Frusk   whiff
Ada Frusk    ball
"""

from __future__ import annotations

import os
from collections.abc import Mapping as AnyMapping
from dataclasses import replace
from typing import Any

import numpy as np
import pandas as pd

from hitlab.errors import ReadingError
from hitlab.pitches.assumptions import assumptions
from hitlab.pitches.blanks import blanks_beside_both, said_of_swing_ticks, settle_hard
from hitlab.pitches.cells import Judged, constant_cells, judge, kept_column, split_cells
from hitlab.pitches.coded import looked_through_once, remember, rows_kept
from hitlab.pitches.consistency import find
from hitlab.pitches.counting import ascending, has_whole_key, key_order, keys_at, rebuild
from hitlab.pitches.dates import demand_year, may_be_year_first, refuse_far_years, refuse_year
from hitlab.pitches.endings import drop_early, drop_repeated
from hitlab.pitches.games import games_of
from hitlab.pitches.headings import Headings, match_headings
from hitlab.pitches.identity import repeated_runs
from hitlab.pitches.levels import settle_level
from hitlab.pitches.mapping import SWING, Mapping, load_mapping
from hitlab.pitches.matched import patterns_without_use, refuse_patterns, unseen_words
from hitlab.pitches.numbering import number_from_one
from hitlab.pitches.origin import LARGEST_CELL, MOST_ROWS, Bounds, Source, part_name
from hitlab.pitches.preparing import Prepared, Whole
from hitlab.pitches.proposing import (
    parts_read,
    placed,
    propose,
    refuse_shares,
    said_of_left_out,
    said_of_names_nowhere,
    said_of_share,
    said_of_unread,
)
from hitlab.pitches.report import HALF_EMPTY, SOME_SET_ASIDE, Reading, Report
from hitlab.pitches.rosters import Roster, load_roster
from hitlab.pitches.schema import COLUMNS, KEY, NEEDED
from hitlab.pitches.seen import Seen
from hitlab.pitches.sense import order_of_play
from hitlab.pitches.setaside import Issues
from hitlab.pitches.sources import TEXT, open_source
from hitlab.pitches.speeds import written_in_two_units
from hitlab.pitches.suggesting import may_be, near_word
from hitlab.pitches.telling import TOLD
from hitlab.pitches.untold import cannot_tell, coarse, odd_days, unlike_columns
from hitlab.pitches.wordforms import fold, many_rows

__all__ = ["Reading", "dated", "read_pitches", "read_rows"]

# The word columns and flags whose words the report counts.
_WORDED = ("word", "flag")

CLASS = "class"
"""Column that the roster adds where it has classes."""


def read_pitches(
    source: Any,
    mapping: str | os.PathLike[str] | AnyMapping[str, Any] | Mapping | None = None,
    *,
    roster: Any = None,
    year: int | None = None,
    most_rows: int = MOST_ROWS,
    largest_cell: int = LARGEST_CELL,
    most_set_aside: float = SOME_SET_ASIDE,
    most_empty: float = HALF_EMPTY,
) -> Reading:
    """Read a pitch table, check it row by row and column against column.

    Parameters
    ----------
    source
        Path of a CSV file (also .tsv, .txt), a workbook (.xlsx, .ods; with the extra ``spreadsheet``), a
        Parquet or a Feather/Arrow file, or of a folder of them; a list of such paths; ``"-"`` for the
        standard input; or a pandas, Polars, PyArrow or Dask data frame, a Polars lazy frame, or a DuckDB
        relation. Lazy ones are collected into memory.
    mapping
        How the source's names, words and units become ours: path of a TOML file, name of a
        mapping that comes with hitlab, dictionary, or None where the source has our names. The
        format stands in :mod:`hitlab.pitches.mapping`.
    roster
        Turns jersey numbers and nicknames into names: path of a table, or a data frame, with the columns
        ``name`` and, where they are known, ``number``, ``nickname``, ``side``, ``class``, ``club``. Side and
        club fill what the table leaves blank.
    year
        Year of the dates, where they tell none; goes before the mapping's.
    most_rows
        Rows beyond which a file is refused: a small one may unfold to more than fits into memory.
    largest_cell
        Bytes beyond which a cell of a text file, or a line, is refused: a quotation mark that nobody closed
        makes one cell of all that follows.
    most_set_aside, most_empty
        Share of the rows set aside, and of blanks in a column that has something to say on every pitch, above
        which the report says so in its first lines.

    Returns
    -------
    Reading
        ``table``, ``report`` and ``set_aside``, in which several files or sheets have a column each for the
        file, the sheet and the row in it. A bad ``hitter`` or ``outcome``, a bad part of the
        key (``game``, ``plate_appearance``, ``pitch``) and a repeated key set the row aside; any
        other bad cell is made missing and its row kept, because a swing that is left out for
        its garbled speed would bias every rate.

    Raises
    ------
    ReadingError
        Where the source or the mapping cannot be used, a needed column is absent, or no row is
        left.

    Examples
    --------
    >>> import pandas as pd
    >>> sheet = pd.DataFrame({"hitter": ["Ada  Frusk", "Bea Plome"], "outcome": ["Whiff", "oops"]})
    >>> reading = read_pitches(sheet)
    >>> reading.table["hitter"].tolist(), reading.table["outcome"].tolist()
    (['Ada Frusk'], ['whiff'])
    >>> reading.set_aside["reason"].tolist()
    ['not a known word']
    """
    refuse_shares(most_set_aside=most_set_aside, most_empty=most_empty)
    rules = load_mapping(mapping)
    players = load_roster(roster)
    origin = open_source(source, rules, Bounds(most_rows, largest_cell), aside=(roster,))
    reading = read_rows(
        origin, dated(rules, origin, year), players, most_set_aside=most_set_aside, most_empty=most_empty
    )
    return replace(reading, file=str(os.fspath(source)) if isinstance(source, str | os.PathLike) else "")


def dated(rules: Mapping, origin: Source, year: int | None) -> Mapping:
    """Give a mapping with the year of the dates of a source, and whether they are typed there.

    Parameters
    ----------
    rules
        The mapping.
    origin
        The source.
    year
        Goes before the mapping's.

    Raises
    ------
    ReadingError
        Where the year is none, or has no use.
    """
    told = rules.year if year is None else year
    if told is not None:
        where = "year=" if year is not None else f"In {rules.name}, [dates] year"
        refuse_year(told, rules.date_format, where, typed=origin.typed_days)
    typed = origin.typed_days or not may_be_year_first(rules.date_format)
    return replace(rules, typed_days=typed, year=told)


@looked_through_once()
def read_rows(
    origin: Source,
    rules: Mapping,
    players: Roster | None = None,
    *,
    most_set_aside: float = SOME_SET_ASIDE,
    most_empty: float = HALF_EMPTY,
    whole: Whole | None = None,
    is_piece: bool = False,
) -> Reading:
    """Check the rows of a source.

    Parameters
    ----------
    origin
        The source, or a piece of it.
    rules, players
        The mapping, from :func:`dated`, and the roster.
    most_set_aside, most_empty
        As for :func:`read_pitches`.
    whole
        What the whole source tells, where these rows are a piece of it.
    is_piece
        Whether they are: of a piece no row need be left, and all pieces have the same columns.

    Raises
    ------
    ReadingError
        As :func:`read_pitches`.
    """
    headings = match_headings(origin, rules)
    prepared = Prepared(origin, headings, rules, most_empty, whole)
    issues = Issues(origin, headings, rules)
    judged = _judge_all(origin, headings, rules, issues, prepared)
    refuse_patterns(judged, rules, headings, origin.name)
    made = {name: one.series() for name, one in judged.items() if name != SWING}
    for name, values in made.items():
        _remember(judged[name], values)
    frame = pd.DataFrame(made, copy=False)
    by_outcome = _told_beside(frame, judged, headings, rules)
    swing = judged[SWING].series() if SWING in judged else None
    resolved = None
    by_name: list[str] = []
    if players is not None:
        # By what the words of the mapping made of hitters and clubs.
        resolved = players.resolve(judged["hitter"], judged.get("club"))
        judged["hitter"] = resolved.judged
        frame["hitter"] = resolved.judged.series()
    of_games: list[str] = []
    without_game: list[str] = []
    if rules.games:
        days, innings = frame.get("date"), frame.get("inning")
        games, of_games, without_game = games_of(origin, headings, rules, prepared.at, days, innings)
        frame["game"] = games.astype(TEXT)
    if players is not None and resolved is not None:
        by_name = [*resolved.said, *_beside(frame, players, is_piece, judged.get("club"))]
    from_nought = number_from_one(judged, frame.get("game"), rules)
    for column in ("plate_appearance", "pitch"):
        if column in judged:
            frame[column] = judged[column].series()
    _turn(frame, rules, issues, judged)
    for column, one in judged.items():
        issues.cells(one, whole_row=column in (*NEEDED, *KEY))
    for column in NEEDED:
        issues.absent(frame[column].isna().to_numpy() & ~judged[column].bad(), column)
    _repeated(frame, issues)
    kept = ~issues.dropped
    if not kept.any():
        if not is_piece:
            raise ReadingError(_nothing_left(origin, judged, issues))
        return _none_kept(origin, headings, rules, judged, issues)
    for name in headings.keep:
        numeric = prepared.whole.numeric.get(name)
        frame[name] = kept_column(name, origin.table.column(headings.keep[name]), numeric)
    frame = frame if kept.all() else rows_kept(frame, kept)
    rows = origin.rows[kept]
    said = [*origin.said, *prepared.said, *by_outcome, *by_name, *of_games, *from_nought]
    said += _fill_ids(frame)
    questions: list[str] = []
    other_blanks: list[str] = []
    if "hard" in judged:
        before = frame["hard"].copy()
        meant, questions = settle_hard(frame, judged["hard"], kept, rules, headings.source_of("hard"))
        said += meant
        names_of_parts = [part_name(one.file, one.sheet) for one in origin.parts]
        other_blanks = blanks_beside_both(before, frame["hard"], names_of_parts, origin.part_of(rows))
    if SWING in judged:
        said += said_of_swing_ticks(judged[SWING], kept, headings.source_of(SWING))
    if rules.count_from == "order":
        said += _recount(frame)
    said += assumptions(frame, rules, headings)
    by_key = key_order(frame)
    said += drop_repeated(frame, by_key)
    flag = None if swing is None else swing[kept].reset_index(drop=True)
    played, unchecked = (None, ()) if by_key is not None else order_of_play(frame, _gaps(origin, kept))
    said += unchecked
    found = find(frame, by_key, played, flag)
    said += drop_early(frame, by_key)
    found["row"] = rows[found["row"].to_numpy(dtype=np.int64) - 1]
    ours = [name for name in COLUMNS if name in frame]
    beside = [CLASS] if CLASS in frame and CLASS not in headings.keep else []
    in_order = [*ours, *headings.keep, *beside]
    frame = frame if list(frame.columns) == in_order else frame[in_order]
    set_aside = issues.frame()
    examples = issues.examples(set_aside)
    strange = resolved.unknown if resolved is not None else {}
    proposals, unknown = propose(origin, headings, rules, prepared, players, strange, judged, set_aside)
    parts = parts_read(origin, issues.dropped)
    mended = placed(prepared.mended(), origin)
    seen = Seen.of(frame)
    of_table = seen.odd
    mixed = written_in_two_units(frame, judged, kept, rules, seen.speeds)
    speeds = tuple(dict.fromkeys((*(one.said for one in mixed.values()), *of_table.speeds)))
    # Speeds beyond what any ball does are said to be of another unit, once.
    unread = set_aside
    for name, other in mixed.items():
        unread = unread[(unread["column"] != name) | ~unread["value"].isin(other.beyond)]
    aside = int(issues.dropped.sum()) + len(origin.ragged)
    alerts = (
        *said_of_share(aside, len(issues.dropped) + len(origin.ragged), most_set_aside),
        *said_of_unread(judged, unread, issues.examples(unread), most_set_aside),
        *(f"{one}." for one in prepared.half_empty),
        *said_of_left_out(origin),
        *(
            f"[patterns] {pattern!r} decides no cell: nothing is like it, or what stands before it counts."
            for pattern in patterns_without_use(judged, rules)
        ),
        *without_game,
        *other_blanks,
        *prepared.alerts,
        *(resolved.alerts if resolved is not None else ()),
        *said_of_names_nowhere(origin, rules),
        *speeds,
    )
    steps = {name: one.step for name, one in judged.items() if one.step}
    names = (*of_table.names, *repeated_runs(judged.values(), kept, rows, origin.row_name))
    odd = odd_days(seen.days, judged.get("date"), rules)
    report = Report(
        source=origin.name,
        rows_read=origin.table.num_rows + len(origin.ragged),
        rows_kept=len(frame),
        rows_set_aside=int(issues.dropped.sum()) + len(origin.ragged),
        values_made_missing=int((set_aside["action"] == "value made missing").sum()),
        reasons=issues.counted(set_aside),
        set_aside_for=issues.counted(set_aside[issues.decisive(set_aside)]),
        examples=examples,
        words=_words(judged),
        unseen=unseen_words(judged, rules),
        used=headings.described(),
        unused=headings.unused,
        questions=tuple(questions),
        assumed=tuple(said),
        contradictions=found,
        lines=origin.lines_read,
        unlike=unlike_columns(headings),
        cannot_tell=(*cannot_tell(frame, judged), *coarse(steps, rules), *names, *odd, *speeds),
        odd_days=odd,
        odd_names=names,
        odd_speeds=speeds,
        seen=seen,
        steps=steps,
        alerts=alerts,
        parts=parts,
        proposals=proposals,
        unknown=unknown,
        mended=mended,
    )
    set_aside, report = placed(set_aside, origin), replace(report, contradictions=placed(found, origin))
    return Reading(origin.give_back(frame), report, set_aside)


def _none_kept(
    origin: Source, headings: Headings, rules: Mapping, judged: dict[str, Judged], issues: Issues
) -> Reading:
    """Say of a piece what was set aside in it, which is all of it."""
    set_aside = issues.frame()
    many = origin.table.num_rows + len(origin.ragged)
    report = Report(
        source=origin.name,
        rows_read=many,
        rows_kept=0,
        rows_set_aside=many,
        values_made_missing=0,
        reasons=issues.counted(set_aside),
        set_aside_for=issues.counted(set_aside[issues.decisive(set_aside)]),
        examples=issues.examples(set_aside),
        words=_words(judged),
        unseen=unseen_words(judged, rules),
        used=headings.described(),
        unused=headings.unused,
        questions=(),
        assumed=(),
        contradictions=pd.DataFrame({"check": [], "row": [], "columns": [], "what": []}, dtype=object),
    )
    return Reading(pd.DataFrame(), report, set_aside)


def _judge_all(
    origin: Source, headings: Headings, rules: Mapping, issues: Issues, prepared: Prepared
) -> dict[str, Judged]:
    """Every column of ours that the source fills, judged."""
    at = prepared.at
    found = {
        target: judge(target, at(place), rules, told_only=target in headings.told)
        for target, place in headings.columns.items()
    }
    if rules.telling:
        # A word that tells nothing is said once, of the outcome.
        for target, place in headings.columns.items():
            if target in TOLD and target != "outcome" and place == headings.columns.get("outcome"):
                found[target] = replace(found[target], problems=np.full_like(found[target].problems, ""))
    for place, split in headings.split.items():
        parts, wrong = split_cells(at(place), split)
        issues.unsplit(at(place), wrong, split, origin.columns[place])
        for target, part in zip(split.into, parts, strict=True):
            found[target] = judge(target, part, rules)
    for target, value in rules.constants.items():
        found[target] = judge(target, constant_cells(value, origin.table.num_rows), rules)
        if found[target].problems[0]:
            raise ReadingError(
                f"In {rules.name}, [constants] {target}: {value!r} is {found[target].problems[0]}. "
                f"Accepted: {COLUMNS[target].accepted}."
            )
    if "level" in found:
        found["level"] = settle_level(found["level"], rules)
    if "date" in found:
        demand_year(
            found["date"].cells.texts,
            rules.date_format,
            rules.year,
            headings.source_of("date"),
            origin.name,
            rules.name,
            rules.typed_days,
        )
        days = found["date"]
        refuse_far_years(
            [None if pd.isna(day) else day.date() for day in pd.to_datetime(days.values)],
            days.cells.times.tolist(),
            days.cells.texts,
            rules.date_format,
            rules.typed_days,
            headings.source_of("date"),
            origin.name,
        )
    names = [*COLUMNS, SWING]
    return {name: found[name] for name in names if name in found}


def _told_beside(
    frame: pd.DataFrame, judged: dict[str, Judged], headings: Headings, rules: Mapping
) -> list[str]:
    """Where a column is blank take what the outcome's word tells of it, in place; and say it.

    Of two who chart one writes "1B" for all, the other the result in a column of its own.
    """
    said = []
    place = headings.columns.get("outcome")
    for target in rules.telling.targets if rules.telling else ():
        if place is None or target not in judged or headings.columns.get(target) in (None, place):
            continue
        own = judged[target]
        blank = np.array([not text.strip() for text in own.cells.texts], dtype=bool)[own.cells.codes]
        told = judge(target, judged["outcome"].cells, rules, told_only=True).series()
        filled = blank & told.notna().to_numpy()
        if filled.any():
            frame[target] = frame[target].mask(filled, told)
            said.append(
                f"{headings.source_of(target)}: {int(filled.sum()):,} blank cell(s) were told by the words "
                f"of {headings.source_of('outcome')}."
            )
    return said


def _beside(frame: pd.DataFrame, players: Roster, in_pieces: bool, of_clubs: Judged | None) -> list[str]:
    """Fill side of the plate and club by the roster where the table does not tell them, and the class.

    Pieces of a table have the same columns, whoever is up in them, and the clubs of the whole.
    """
    said = []
    clubs = frame.get("club")
    everywhere = clubs if of_clubs is None else of_clubs.values
    here = [] if everywhere is None else [str(club) for club in everywhere.dropna().unique()]
    sides, classes = (found(frame["hitter"], clubs) for found in (players.sides, players.classes))
    own_clubs = players.clubs_of(frame["hitter"], clubs, here)
    own_clubs = own_clubs.mask(_hits_for_another(frame, own_clubs))
    for column, told, known in (
        ("hitter_side", sides, [player.side for player in players.players]),
        ("club", own_clubs, [player.club for player in players.players]),
    ):
        if not told.notna().any() and not (in_pieces and any(known)):
            continue
        before = frame[column] if column in frame else pd.Series(None, index=frame.index, dtype=TEXT)
        missing = int((before.isna() & told.notna()).sum())
        if missing or column not in frame:
            frame[column] = before.fillna(told)
        if missing:
            said.append(f"{column} is by {players.name} in {missing:,} row(s).")
    if CLASS not in frame and (
        classes.notna().any() or (in_pieces and any(player.year for player in players.players))
    ):
        frame[CLASS] = classes
        said.append(f"{CLASS} is by {players.name}.")
    return said


def _hits_for_another(frame: pd.DataFrame, clubs: pd.Series) -> pd.Series:
    """Say which hitters the table has in another club in the same game: the roster's is another one.

    By games, which no piece of a table cuts.
    """
    if "club" not in frame or not clubs.notna().any():
        return pd.Series(False, index=frame.index)
    keys = [name for name in ("hitter", "game") if name in frame]
    turn = frame.groupby(keys, dropna=False, sort=False).ngroup()
    told = pd.DataFrame({"turn": turn, "club": frame["club"]}).dropna().drop_duplicates()
    folded = told.assign(club=[fold(club) for club in told["club"]]).drop_duplicates()
    several = folded["turn"].value_counts()
    own = turn.map(folded.drop_duplicates("turn").set_index("turn")["club"])
    ours = clubs.map({club: fold(club) for club in clubs.dropna().unique()})
    return own.notna() & ((own != ours).fillna(True).astype(bool) | (turn.map(several) > 1))


def _remember(judged: Judged, column: pd.Series) -> None:
    """Say which texts stand where in a column of text that repeats them."""
    cells, texts = judged.cells, judged.values
    if not isinstance(texts.dtype, pd.StringDtype) or 2 * len(texts) > len(cells.codes):
        return
    places: dict[str, int] = {}
    missing = texts.isna().tolist()
    new = [
        -1 if gone else places.setdefault(text, len(places))
        for text, gone in zip(texts.tolist(), missing, strict=True)
    ]
    remember(column, np.array(new, dtype=np.int64)[cells.codes], list(places))


def _turn(frame: pd.DataFrame, rules: Mapping, issues: Issues, judged: dict[str, Judged]) -> None:
    """Turn sideways locations toward the hitter and spray angles toward the pull side.

    The right-handed hitter (``right``) stands to the catcher's left and to the pitcher's right,
    and pulls the ball to left field.
    """
    for column, given, view, toward_left in (
        ("inside_in", rules.charted_from, "hitter", "catcher"),
        ("spray_deg", rules.spray_positive, "pull", "right field"),
    ):
        if given == view or column not in frame:
            continue
        if "hitter_side" not in frame:
            raise ReadingError(
                f"{column} cannot be turned toward the hitter's side: the mapping says that it was charted "
                f"from the {given}, and there is no hitter_side. Map a source column to hitter_side."
            )
        side = frame["hitter_side"]
        positive, negative = ("left", "right") if given == toward_left else ("right", "left")
        sign = np.where(side == positive, 1.0, np.where(side == negative, -1.0, np.nan))
        unknown = frame[column].notna().to_numpy() & np.isnan(sign)
        issues.unturned(unknown, judged[column])
        frame[column] = frame[column].to_numpy() * sign + 0.0  # no negative zero


def _gaps(origin: Source, kept: np.ndarray) -> np.ndarray:
    """For each row that was kept whether one that was set aside stands before it."""
    aside = np.concatenate([origin.rows[~kept], [one.row for one in origin.ragged]]).astype(np.int64)
    before = np.searchsorted(np.sort(aside), origin.rows[kept])
    gap = np.diff(np.append(0, before)) > 0
    if origin.parts:  # what stands before the first row of a sheet nobody knows
        part = origin.part_of(origin.rows[kept])
        gap[1:] |= part[1:] != part[:-1]
    return np.asarray(gap)


def _repeated(frame: pd.DataFrame, issues: Issues) -> None:
    """Set aside every pitch after the first that has the same whole key."""
    if any(name not in frame for name in KEY):
        return
    whole = has_whole_key(frame)
    if ascending(*keys_at(frame, np.flatnonzero(whole & ~issues.dropped)), strictly=True):
        return
    usable = frame[list(KEY)][whole & ~issues.dropped]
    again = usable.duplicated(list(KEY), keep=False)
    if not again.any():
        return
    usable = usable[again.to_numpy()]
    group = usable.groupby(list(KEY), sort=False).ngroup().to_numpy()
    later = usable.duplicated(list(KEY)).to_numpy()
    first = np.zeros(group.max() + 1, dtype=np.int64)
    first[group[~later]] = np.flatnonzero(~later)
    places = usable.index.to_numpy()[later]
    firsts = usable.index.to_numpy()[first[group[later]]]
    same = np.ones(len(places), dtype=bool)
    for name in frame.columns:
        one, other = frame[name].take(places), frame[name].take(firsts)
        equal = (
            (one.reset_index(drop=True) == other.reset_index(drop=True)).fillna(False).to_numpy(dtype=bool)
        )
        same &= equal | (one.isna().to_numpy() & other.isna().to_numpy())
    issues.repeated(places, firsts, same, frame)


def _fill_ids(frame: pd.DataFrame) -> list[str]:
    """Fill empty ids with the name, as the table's definition says."""
    said = []
    for name in ("hitter", "pitcher"):
        number = f"{name}_id"
        if number in frame and name in frame:
            empty = frame[number].isna() & frame[name].notna()
            if empty.any():
                frame[number] = frame[number].fillna(frame[name])
                said.append(
                    f"{number} is empty in {int(empty.sum())} row(s): the name stands in for it there."
                )
    return said


def _recount(frame: pd.DataFrame) -> list[str]:
    before = [frame[name].copy() if name in frame else None for name in ("balls", "strikes")]
    balls, strikes, said = rebuild(frame)
    differs = np.zeros(len(frame), dtype=bool)
    for old, new in zip(before, (balls, strikes), strict=True):
        if old is not None:
            differs |= (old != new).fillna(False).to_numpy(dtype=bool)
    frame["balls"], frame["strikes"] = balls, strikes
    if any(old is not None for old in before):
        said.append(f"The file's own count differed from the rebuilt one in {int(differs.sum())} row(s).")
    return said


def _words(judged: dict[str, Judged]) -> pd.DataFrame:
    """Every word seen in the word and flag columns and in level, before and after translation."""
    names = ["column", "source_word", "word", "known", "count"]
    rows: list[tuple[str, str, str, bool, int]] = []
    for name, one in judged.items():
        if one.column.kind not in _WORDED and name != "level":
            continue
        counts = one.cells.here
        # Words that differ only by blanks around them are one word.
        seen: dict[tuple[str, str, bool], int] = {}
        values = zip(one.cells.texts, one.values.tolist(), one.problems, counts.tolist(), strict=True)
        for text, value, problem, times in values:
            if times:
                became = "" if pd.isna(value) else str(value)
                word = became.lower() if one.column.kind == "flag" else became
                key = (text.strip(), word, problem == "")
                seen[key] = seen.get(key, 0) + times
        often = sorted(seen.items(), key=lambda item: -item[1])
        rows += [(name, *key, times) for key, times in often]
    return pd.DataFrame(rows, columns=pd.Index(names)).astype({"known": bool, "count": np.int64})


def _nothing_left(origin: Source, judged: dict[str, Judged], issues: Issues) -> str:
    counted = issues.counted(issues.frame())
    reasons = "; ".join(f"{reason} ({many_rows(count)})" for reason, count in list(counted.items())[:5])
    text = f"No row of {origin.name} can be used: {reasons}."
    outcome = judged["outcome"]
    unknown = [text for text, why in zip(outcome.cells.texts, outcome.problems, strict=True) if why]
    if unknown:
        both = may_be(unknown[0], "outcome")
        near = near_word(unknown[0], "outcome") or "..."
        several = f" (it may be {both})" if both else ""
        listed = ", ".join(repr(word) for word in unknown[:12])
        text += (
            f" Outcome words that are not known: {listed}. Say in the mapping what each means, such as: "
            f'[words.outcome] "{unknown[0]}" = "{near}"{several}. '
            f"Accepted: {', '.join(outcome.column.words)}."
        )
    return text
