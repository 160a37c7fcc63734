"""The tally: every count from a pitch table, in one pass over its columns.

Rows are first reduced to the few values that the rules look at, then grouped by these together
with the caller's keys, and the rules are summed over the small table that comes back. Two narrow
groupings (by what the pitch became, by how the plate appearance ended) read each column once and were
twice as fast as one wide grouping, which multiplies the two. The same lines run on pandas, Polars
and PyArrow, and lazily on DuckDB, Dask and PySpark.
"""

from __future__ import annotations

import warnings
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.counting.counts import LABELS, LABELS_OF, Counts
from hitlab.counting.events import EVENTS, Event, event_expression
from hitlab.counting.facts import FACT_COLUMNS, PITCH_FACTS, Conventions, facts_beside, pitch_facts
from hitlab.counting.hardness import (
    TICKED,
    circumstances,
    found,
    hard_means,
    near_threshold,
    ticked_in,
    why_no_threshold,
    why_ticks_only,
)
from hitlab.counting.kept_counts import kept_counts
from hitlab.counting.own_counts import add_own, companions
from hitlab.counting.own_events import Own, Pitches, Wanted, attached, understood
from hitlab.counting.scanning import Scanned, scanned
from hitlab.counting.situations import Situation
from hitlab.counting.summing import (
    ROWS,
    Counted,
    Gathered,
    Pitched,
    Rows,
    Weigh,
    cells,
    is_spread,
    looked_up,
    sums_there,
    weights,
)
from hitlab.counting.value_kinds import COMPARED, demand_kinds, demand_one_kind, looked_at
from hitlab.demonstration import called
from hitlab.errors import CountsError, HitlabWarning, MissingColumnsError, ReadingError
from hitlab.pitches.doubts import COARSE_MPH, Doubts
from hitlab.pitches.lookalikes import alike, looks
from hitlab.pitches.opening import doubts_of, frame_of
from hitlab.pitches.schema import OUTCOMES, RESULTS
from hitlab.showing import quoted

__all__ = ["hard_threshold", "tally"]

_FEWEST_JUDGED = 200  # fewer measured balls say nothing about the share of hard ones
_MOST_NAME_NOTES = 5  # more of them say nothing new
_USUAL_HARD_SHARE = (0.15, 0.60)  # common practice, no source

_ENDING = ("result",)
"""What is told of the pitches that end a plate appearance, beside the facts of each."""

_WITH_HARD = ("in_play", "contact", "two_strike_in_play", "two_strike_contact")

_LEVEL_ASSUMED = "no level is recorded: professionals with wood bats are assumed"


def tally(
    pitches: Any,
    by: str | Sequence[str] = "hitter",
    *,
    where: Pitches | None = None,
    events: Mapping[str, Pitches] | None = None,
    conventions: Conventions | None = None,
    trust: bool = False,
    doubts: Doubts | None = None,
    only: Collection[str] | None = None,
) -> Counts:
    """Count everything that can be counted, by group.

    Parameters
    ----------
    pitches
        A path to a Parquet file saved with ``write_checked`` (scanned lazily, not checked again), or to a
        folder of such files; a ``Reading``; or any eager or lazy frame with the pitch table's columns.
    by
        Column or columns to group by. ``hitter`` and ``pitcher`` group by their ids where the
        table has them and show the name beside.
    where
        Only these pitches are counted: a narwhals expression over the table's columns, a Boolean mask as
        long as the table (in memory), the name of a Boolean column, a situation, or its text such as
        ``"strikes=2"``. What is missing is false.
    events
        The user's own events: a name and any of the same forms. A text may also restrict a count: ``"swings
        at balls=0 strikes=0"``, ``"takes in the zone"``. Each comes back as one more count, and has a rate
        over those counts that it lies within in this table.
    conventions
        How the debatable cases are counted; see :class:`~hitlab.counting.facts.Conventions`.
    trust
        Accept a file without the schema mark.
    doubts
        What reading the pitches left in doubt; a ``Reading`` or a saved file tells it itself.
    only
        Names of the counts that are wanted, where a few are enough: with hard balls come those that tell how
        many are unknown. The others are neither counted nor named.

    Returns
    -------
    Counts
        One row a group in ascending order of the keys; int64 columns named as in
        ``hitlab.counting.EVENTS`` (``pitches``, ``swings``, ``whiffs``, ``hard``, ...), then the user's
        own. What the columns cannot tell is absent and explained in ``missing``, never 0.

    Raises
    ------
    MissingColumnsError
        Where ``outcome`` or a column of ``by`` is absent.
    ReadingError
        Where the file has no schema mark, an outcome or result is not one of the pitch table's words, numbers
        are written as texts, or the engine fails on the way.
    CountsError
        Where an event's name is taken, a key is called as a count is (``bases``, ``hard``), or a form is none
        of those, before anything is counted.

    Examples
    --------
    >>> from hitlab import demo_season
    >>> counts = tally(demo_season(), events={"first_swings": "swings at balls=0 strikes=0"})
    >>> "first_swings" in counts.names, counts.own["first_swings"].within
    (True, ('pitches', 'swings'))
    """
    conventions = conventions or Conventions()
    frame, name = frame_of(pitches, trust=trust)
    source = called(name)
    columns = set(frame.collect_schema().names())
    keys = _keys(by, columns)
    asked = {f"events[{name!r}]": form for name, form in (events or {}).items()}
    frame, forms = attached(frame, asked if where is None else {**asked, "where": where})
    all_columns = set(frame.collect_schema().names())
    wanted = {name: understood(name, form, frame, all_columns) for name, form in forms.items()}
    doubts = doubts_of(pitches, trust=trust) if doubts is None else doubts
    most = conventions.most_contradicted
    asked_of = {*keys, *(column for one in wanted.values() for column in one.rests_on)}
    doubts.refuse(asked_of, most, "what is asked for")
    # What an expression of the caller's own compares is not known.
    of_ones_own = any(not one.rests_on for one in wanted.values())
    compared = COMPARED if of_ones_own else [*FACT_COLUMNS, *asked_of]
    whole, beside = frame, _beside(keys, columns)
    at_once = frame.implementation.is_dask() and not of_ones_own
    if at_once:
        frame = looked_at(frame.select(sorted({*compared, *beside} & all_columns)), compared)
    else:
        demand_kinds(frame, compared)
        demand_one_kind(frame, keys)
    if where is not None:
        chosen = wanted.pop("where")
        if chosen.base:
            raise CountsError(
                f"where={where!r} begins with the count {chosen.base}, and where= chooses pitches by a "
                "situation; leave the count out, or count it as an event of your own: "
                f'events={{"mine": {where!r}}}'
            )
        frame = frame.filter(chosen.flag == True)  # noqa: E712  (an expression)
    own = {name: wanted[f"events[{name!r}]"] for name in events or {}}
    own |= companions(own, conventions, columns)
    _check_names(own, keys)

    counted = [event for event in EVENTS.values() if not event.lacking(columns)]
    missing = {e.name: _why_missing(e, columns) for e in EVENTS.values() if e.lacking(columns)}
    missing |= {e.name: why for e in counted if (why := doubts.reason(e.rests_on, most))}
    counted = [event for event in counted if event.name not in missing]
    if only is not None:
        wanted_too = _with_what_they_need(only)
        counted = [event for event in counted if event.name in wanted_too]
    _demand_other_names(keys, counted, len(own))
    # What is chosen of the pitches by what is not kept, or counted beside the ledger, is nowhere kept.
    chosen_so = where is None or isinstance(where, Situation)
    names = [event.name for event in counted] + ([] if where is None else list(TICKED))
    kept = None
    if chosen_so and not own and not trust:
        kept = kept_counts(whole, keys, columns, conventions, names, where)
    facts = facts_beside(keys, columns, conventions)
    rows: Rows = (scanned(frame) or Pitched(frame)) if kept is None else kept
    seen_by = keys
    if kept is None and is_spread(frame):
        if len(keys) > 1:
            # By games and the like only sums come home: rows by every fact are a good part of all pitches.
            seen_by = [key for key in keys if key in (_labelled(keys), "hitter")]
        beside = [name for name in beside if name not in (*seen_by, *PITCH_FACTS)]
        told = [*seen_by, *facts_beside(seen_by, columns, conventions), *beside]
        try:
            rows = Gathered.of(frame, told, [*dict.fromkeys([*seen_by, *PITCH_FACTS]), *beside])
        except ReadingError:
            if at_once:
                demand_kinds(whole, compared)  # says in how many partitions
            raise
    around = circumstances(rows, columns)
    mixed = _mixed(around)
    no_hardness = why_no_threshold(around, columns, conventions)

    grouped: dict[tuple[str, ...], Counted] = {}
    if kept is not None:
        ticked = {name: kept.total(name) for name in TICKED} if "hard" in columns else {}
    else:
        grouped = _grouped(rows, frame, keys, seen_by, columns, conventions)
        _check_words(grouped[PITCH_FACTS].kinds, "outcome", OUTCOMES, source)
        if _ENDING in grouped:
            _check_words(grouped[_ENDING].kinds, "result", RESULTS, source)
        ticked = ticked_in(grouped[PITCH_FACTS].by_kind(), conventions) if "hard" in columns else {}
    no_hardness = no_hardness or why_ticks_only(ticked, whole, where is not None, columns, conventions)
    if no_hardness:
        lost = [event for event in counted if event.hardness and ("exit_mph", "hard") in event.needs]
        missing |= {event.name: no_hardness for event in lost}
        counted = [event for event in counted if event not in lost]
    thrown, ending = [e for e in counted if not e.ending], [e for e in counted if e.ending]
    rules: dict[tuple[str, ...], Weigh] = {
        PITCH_FACTS: partial(weights, events=thrown, conventions=conventions)
    }
    if "result" in columns:
        rules[_ENDING] = partial(weights, events=ending, conventions=conventions)
    if kept is not None:
        data = kept.sums_by(keys, [event.name for event in (*thrown, *ending)])
    elif seen_by == keys:
        # Every group is in the first: a pitch without an outcome is not in a pitch table.
        data = grouped[PITCH_FACTS].groups.copy()
        for by_facts, pitches_by in grouped.items():
            pitches_by.add_to(data, keys, rules[by_facts])
    else:
        # A pitch is four bases at most, and no other count so many.
        most = 4 * int(grouped[PITCH_FACTS].size.sum())
        flags = [event_expression(event, conventions).alias(event.name) for event in (*thrown, *ending)]
        told = [*keys, *facts, *({"result"} & columns - {*keys})]
        data = sums_there(frame, keys, told, rules, flags, most)
    lying: dict[str, Own] = {}
    if own:
        lying = add_own(data, frame, keys, own, counted, conventions, columns)

    data, label_notes = _with_labels(data, rows, keys, columns)
    said = (*mixed, *label_notes)
    means = "" if no_hardness else hard_means(columns, conventions)
    by_custom = bool(means) and conventions.hard_mph is None and "exit_mph" in columns
    assumed = (_LEVEL_ASSUMED,) if by_custom and not found(around, "level") else ()
    counts = Counts(
        data,
        tuple(keys),
        conventions,
        missing,
        said,
        source,
        means,
        assumed,
        lying,
        doubts,
        frozenset(asked_of),
    )
    step = doubts.steps.get("exit_mph", 0.0) if "exit_mph" in columns and "hard" in counts.names else 0.0
    if step > COARSE_MPH:
        near = near_threshold(frame, columns, conventions, step)
        counts = replace(counts, hard_doubts=_of_rounding(near, step, counts))
    return _noting_shares(counts)


def _grouped(
    rows: Rows, frame: Any, keys: list[str], seen_by: list[str], columns: set[str], conventions: Conventions
) -> dict[tuple[str, ...], Counted]:
    """Count pitches by keys and their facts, and those that end a plate appearance by how.

    On tables that are spread over workers it is by fewer keys, ``seen_by``.
    """
    ends = "result" in columns
    if isinstance(rows, Scanned) and (told := rows.counted(keys, conventions)) is not None:
        return {PITCH_FACTS: told, **({_ENDING: told.having("result")} if ends else {})}
    found: dict[tuple[str, ...], pd.DataFrame] = {}
    if isinstance(rows, Gathered):
        found[PITCH_FACTS] = rows.rows_by(*seen_by, *PITCH_FACTS)
        if ends:
            found[_ENDING] = rows.rows_by(*seen_by, "result").dropna(subset=["result"])
    else:
        facts = facts_beside(keys, columns, conventions)
        found[PITCH_FACTS] = cells(frame.select(*keys, *facts), keys, PITCH_FACTS)
        if ends:
            ended = frame.filter(~nw.col("result").is_null()).select(*dict.fromkeys([*keys, "result"]))
            found[_ENDING] = cells(ended, keys, _ENDING)
    return {facts_of: Counted.of(table, seen_by, facts_of) for facts_of, table in found.items()}


def _with_what_they_need(names: Collection[str]) -> set[str]:
    """Add to some counts those about hardness that have to be told with them."""
    if not any(name in EVENTS and EVENTS[name].hardness for name in names):
        return set(names)
    return {*names, *(event.name for event in EVENTS.values() if event.hardness), *_WITH_HARD}


def hard_threshold(pitches: Any, top_share: float, *, trust: bool = False) -> float:
    """Return the speed off the bat, in mph, that the league's hardest share of balls in play reach.

    For levels where 95 mph says little: ``tally(pitches, conventions=Conventions(
    hard_mph=hard_threshold(pitches, 0.35)))``.

    Parameters
    ----------
    pitches
        As in :func:`tally`.
    top_share
        Share of the measured balls in play, bunts left out, that is to count as hard; between 0 and 1.
    trust
        Accept a file without the schema mark.

    Returns
    -------
    float
        In mph; a ball at this speed or above counts as hard.

    Raises
    ------
    MissingColumnsError
        Where there is no ``exit_mph``, or no ball in play was measured.
    CountsError
        Where ``top_share`` is not between 0 and 1.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.counting import hard_threshold
    >>> struck = pd.DataFrame({"outcome": ["in play"] * 5, "exit_mph": [62.0, 71.0, 80.0, 84.0, 93.0]})
    >>> hard_threshold(struck, 0.25, trust=True)
    84.0
    """
    if not 0 < top_share < 1:
        raise CountsError(f"top_share={top_share!r}: give a share between 0 and 1, such as 0.35")
    frame, name = frame_of(pitches, trust=trust)
    source = called(name)
    columns = set(frame.collect_schema().names())
    if "exit_mph" not in columns:
        raise MissingColumnsError(f"{source}: a speed threshold needs the column exit_mph")
    facts = pitch_facts(columns, Conventions())
    struck = frame.select("exit_mph", *facts).filter(
        (nw.col("outcome") == "in play") & (nw.col("bunted") == 0) & (nw.col("exit_mph") >= 0)
    )
    # Each speed comes once, with how many balls had it: there are far fewer speeds than balls.
    speeds = Pitched(struck).rows_by("exit_mph").sort_values("exit_mph", ignore_index=True)
    speeds = speeds[np.isfinite(speeds["exit_mph"].to_numpy(float))]
    if not len(speeds):
        raise MissingColumnsError(
            f"{source}: no ball in play has a speed, so no threshold can be taken from it"
        )
    ends = speeds[ROWS].cumsum().to_numpy(np.int64)
    place = (1 - top_share) * (int(ends[-1]) - 1)
    below, above = np.searchsorted(ends, [np.floor(place), np.ceil(place)], side="right")
    mph = speeds["exit_mph"].to_numpy(float)
    return float(np.quantile([mph[below], mph[above]], place % 1))


def columns_of(pitches: Any, *, trust: bool = False) -> set[str]:
    """Return the names of a pitch table's columns; takes what :func:`tally` takes."""
    frame, _ = frame_of(pitches, trust=trust)
    return set(frame.collect_schema().names())


def _keys(by: str | Sequence[str], columns: set[str]) -> list[str]:
    if "outcome" not in columns:
        raise MissingColumnsError(
            "a tally needs the column outcome; read the file with read_pitches and a mapping first"
        )
    told: Any = by
    asked = [told] if isinstance(told, str) else list(told) if isinstance(told, Iterable) else [told]
    if not asked or not all(isinstance(name, str) for name in asked):
        what = f"={told!r}" if asked else "="
        raise CountsError(f"by{what} names no column; give at least one, such as 'hitter'")
    by_id = {"hitter": "hitter_id", "pitcher": "pitcher_id"}
    keys = [by_id[name] if by_id.get(name) in columns else name for name in asked]
    absent = [name for name in keys if name not in columns]
    if absent:
        from hitlab.pitches.mapping import nearest

        there = sorted(map(str, columns))
        near = nearest(absent[0], there)
        raise MissingColumnsError(
            f"by= asks for {absent[0]!r}{f' (did you mean {near!r}?)' if near else ''}; the table has: "
            f"{', '.join(there)}"
        )
    return list(dict.fromkeys(keys))


def _beside(keys: Sequence[str], columns: set[str]) -> list[str]:
    """Return the columns that a tally asks for beside its keys and the facts."""
    labels = LABELS_OF.get(_labelled(keys), ())
    clubs = ["club"] if "hitter" in keys else []
    asked = ("result", "level", "bat", *labels, *clubs)
    return [name for name in dict.fromkeys(asked) if name in columns]


def _check_names(own: Mapping[str, Wanted], keys: Sequence[str]) -> None:
    for name in own:
        if name in EVENTS or name in keys or name in LABELS or name == ROWS:
            raise CountsError(f"the event name {name!r} is taken; choose another")


def _demand_other_names(keys: Sequence[str], counted: Sequence[Event], own: int) -> None:
    """Refuse a key in whose place a count would stand, or what counting calls so itself."""
    names = {*(event.name for event in counted), *PITCH_FACTS[1:], ROWS}
    taken = names.union(f"own_{number}" for number in range(own)).intersection(keys)
    if taken:
        raise CountsError(
            f"by= asks for {min(taken)!r}, which is what a count is called as well; copy that column under "
            "another name and count by the copy"
        )


def _why_missing(event: Event, columns: set[str]) -> str:
    return f"the table has no column {' and no column '.join(event.lacking(columns))}"


def _check_words(cells: pd.DataFrame, column: str, words: Sequence[str], source: str) -> None:
    found = cells[column].dropna().unique()
    unknown = sorted(str(word) for word in found if word not in words)
    if cells[column].isna().any():
        unknown = ["an empty cell", *unknown]
    if unknown:
        raise ReadingError(
            f"{source}: column {column} holds {unknown[0]!r}, which is not a word of the pitch table; "
            f"accepted are: {', '.join(words)}. Translate it with read_pitches and a mapping"
        )


def _mixed(around: pd.DataFrame) -> list[str]:
    """Return what has to be said where levels, or bats, are mixed."""
    notes = []
    for name in ("level", "bat"):
        values = found(around, name)
        if len(values) > 1:
            notes.append(
                f"{name}s are mixed here ({', '.join(values)}): do not rank across them; "
                "pass where= to separate them"
            )
            warnings.warn(notes[-1], HitlabWarning, stacklevel=3)
    return notes


def _labelled(keys: Sequence[str]) -> str:
    """Return the id beside which names are shown; empty where there is none."""
    return next((name for name in LABELS_OF if name in keys), "")


def _with_labels(
    data: pd.DataFrame, rows: Rows, keys: list[str], columns: set[str]
) -> tuple[pd.DataFrame, list[str]]:
    """Add name and club beside a hitter's id, the name beside a pitcher's: the most frequent name."""
    key = _labelled(keys)
    if not key:
        return data, _name_notes(data, rows, columns) if "hitter" in keys else []
    who = key.removesuffix("_id")
    labels = [name for name in LABELS_OF[key] if name in columns and name not in keys]
    if not labels:
        return data, []
    seen = rows.rows_by(key, *labels)
    seen = seen.sort_values([ROWS, *labels], ascending=[False, *(True for _ in labels)])
    notes = _name_notes(data, rows, columns) if "hitter" in keys else []
    if who in labels:
        if keys[0] == key:  # who is only met is not asked about
            _demand_ids(seen, key, who)
        named = seen[key].astype(str) == seen[who].astype(str)
        if named.any() and not named.all():
            times = int(seen.loc[named, ROWS].sum())
            notes.append(f"in {times:,} rows the name stands for the {key}")
    for label in reversed(labels):
        known = seen.dropna(subset=[key, label]).drop_duplicates([key, label])
        several = known[known[key].duplicated(keep=False)]
        called = known.drop_duplicates(key).set_index(key)[label]
        if label == who and len(several):
            ids = several[key].nunique()
            notes.append(f"{ids} {who} ids come with more than one name; the most frequent is shown")
        elif len(several):
            joined = several.groupby(key, observed=True)[label].agg(" and ".join)
            called = pd.concat([called[~called.index.isin(joined.index)], joined])
        data.insert(len(keys), label, looked_up(data[key], called))
    return data, notes


def _demand_ids(seen: pd.DataFrame, key: str, who: str) -> None:
    """Refuse ids that are blank where there is a name, and no name can stand in: all would be one."""
    blank = seen[seen[key].isna() & seen[who].notna()]
    if blank.empty:
        return
    other = next(iter(seen[key].dropna()), None)
    if other is None:
        raise ReadingError(f"{key} is blank in every row: leave the column out, so that names tell who it is")
    name, held = quoted(str(blank[who].iloc[0])), quoted(str(other).removesuffix(".0"))
    raise ReadingError(
        f"{key} is blank in {int(blank[ROWS].sum()):,} rows that tell a name, such as {name}, and others "
        f"hold {held}, for which no name can stand in: fill them, or read the table with read_pitches"
    )


def _name_notes(data: pd.DataFrame, rows: Rows, columns: set[str]) -> list[str]:
    """Say where names without ids may be two people, or two spellings one."""
    notes = []
    names = data["hitter"].dropna().astype(str).drop_duplicates()
    drawn = pd.Series([looks(alike(name)) for name in names], index=names.index)
    several = drawn[drawn.duplicated(keep=False)]
    spellings = names[several.index].groupby(several).agg(list)
    notes += [
        f"{' and '.join(quoted(name) for name in found)} count as {len(found)} hitters" for found in spellings
    ]
    if "club" in columns:
        seen = rows.rows_by("hitter", "club")
        clubs = seen.dropna(subset=["hitter", "club"]).groupby("hitter", observed=True)["club"].agg(sorted)
        notes += [
            f"{name} stands with {' and '.join(found)} and counts as one hitter: if these are two people, "
            "give them a hitter_id"
            for name, found in clubs.items()
            if len(found) > 1
        ]
    return notes[:_MOST_NAME_NOTES]


def _of_rounding(near: int, step: float, counts: Counts) -> tuple[str, ...]:
    """Say how many balls a coarse column of speeds cannot judge; nothing where there are none."""
    if not near:
        return ()
    noun, column = _struck(counts)
    judged = int(counts.column(column).sum() - counts.column("unmeasured").sum())
    return (
        f"whether {near:,} of {judged:,} {noun} are hard, whose speeds, written in steps of {step:.2f} mph, "
        f"lie within the rounding of {counts.conventions.threshold_mph:g} mph",
    )


def _struck(counts: Counts) -> tuple[str, str]:
    """Return what may be hard, in words and as a count."""
    return ("contacts", "contact") if counts.conventions.hard_fouls else ("balls in play", "in_play")


def _noting_shares(counts: Counts) -> Counts:
    """Warn where the share of hard balls is odd, or judgements of different kinds are pooled."""
    if "hard" not in counts.names:
        return counts
    notes, warned = list(counts.hard_notes), []
    noun, column = _struck(counts)
    contact, unknown = int(counts.column(column).sum()), int(counts.column("unmeasured").sum())
    (by_eye, judged), hard = counts.judged, int(counts.column("hard").sum())
    low, high = _USUAL_HARD_SHARE
    if judged >= _FEWEST_JUDGED and not low <= hard / judged <= high:
        warned.append(
            f"{hard / judged:.0%} of the {noun} with known hardness are hard; "
            f"{low:.0%} to {high:.0%} is usual, "
            "so look at the threshold"
        )
    if unknown:
        notes.append(f"{unknown:,} of {contact:,} {noun} have unknown hardness")
    if 0 < by_eye < judged:
        both = f"hardness was judged by eye {by_eye:,} times and by radar {judged - by_eye:,} times"
        if counts.conventions.eye is None:
            warned.append(f"{both}: do not rank across the two")
        else:
            notes.append(f"{both}; the eye's errors are taken out of shrunk rates, not of observed ones")
    disputed = int(counts.column("hard_disputed").sum()) if "hard_disputed" in counts.names else 0
    if disputed:
        taken = "flag" if counts.conventions.eye is None else "speed"
        notes.append(f"{disputed:,} recorded flags contradict the speed off the bat; the {taken} was taken")
    for said in warned:
        warnings.warn(said, HitlabWarning, stacklevel=3)
    return replace(counts, hard_notes=(*notes, *warned))
