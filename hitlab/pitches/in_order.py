"""The order of the pitches on an engine: what stands in memory in ``counting``, as window functions.

Written once against narwhals for the engines whose rows stay where they are (DuckDB, lazy Polars, Spark), so
that only what is asked of the order comes home. Dask has no such windows: there whole games are brought
together, and each partition is put in order in memory (:func:`by_games`).

A plate appearance in which a number stands twice has no order of its own. It is set aside whole, so that it
does not matter in which order an engine puts its rows.

``with_previous`` and ``rebuild_count`` collect nothing there; ``sequence_faults``, ``after_whiff`` and
``fastball_readiness`` bring home what is compared, as numbers. Names are numbered by their own order, and
rows are sorted by the key or by their values before anything is summed, so that answers are equal to the last
digit. Patterns, the strip of a plate appearance and cut lists look at single rows, in memory (``eager``).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

import narwhals as nw

from hitlab.pitches.schema import BALL_OUTCOMES, ENDING_OUTCOMES, STRIKE_OUTCOMES

__all__ = [
    "AFTER_END",
    "APPEARANCE",
    "BALLS",
    "CONTRADICTED",
    "FAULT",
    "FIRST",
    "GAP",
    "PITCH",
    "STRIKES",
    "TWICE",
    "WHOLE",
    "WRONG",
    "at_most_two",
    "by_games",
    "coded",
    "has_order",
    "in_order",
    "is_dask",
    "known",
    "pitch_by_pitch",
    "rebuilt_beside",
    "with_faults",
]

_ENGINES = ("duckdb", "polars", "pyspark", "pyspark[connect]")

CONTRADICTED, AFTER_END, GAP, TWICE = 1, 2, 3, 4
"""What is wrong with a plate appearance, the graver the larger: the others often follow from it."""

WHOLE, APPEARANCE, PITCH = "in_order_whole", "in_order_appearance", "in_order_pitch"
FIRST, WRONG, FAULT = "in_order_first", "in_order_wrong", "in_order_fault"
BALLS, STRIKES = "in_order_balls", "in_order_strikes"

_STEP, _LAST, _BEFORE = "in_order_step", "in_order_last_step", "in_order_before"
# What an outcome does to the count; each outcome does one of these.
_NOTHING, _BALL, _STRIKE, _FOUL, _END = range(5)
_MOST = 9  # counted so far and no further: more than any count has, and it fits into a byte


def known(name: str, schema: Mapping[str, Any]) -> nw.Expr:
    """Say where a column has a value: NaN is none, and engines that have nulls beside take it for one.

    Parameters
    ----------
    name
        The column.
    schema
        The frame's.
    """
    there = ~nw.col(name).is_null()
    return there & ~nw.col(name).is_nan() if schema[name].is_float() else there


def _whole(name: str, schema: Mapping[str, Any]) -> nw.Expr:
    """Return a number as a whole one where the key is whole; without its fraction, as in memory."""
    value = nw.col(name) // 1 if schema[name].is_float() else nw.col(name)
    # The cast comes last: some engines cast every row before they choose, and NaN is no whole number.
    return nw.when(nw.col(WHOLE)).then(value).cast(nw.Int64)


def coded(frame: Any, names: Iterable[str]) -> tuple[Any, dict[str, Any]]:
    """Join to each row the numbers, from 1, of its values in some columns, by the engine.

    Parameters
    ----------
    frame
        A lazy narwhals frame.
    names
        Columns of it.

    Returns
    -------
    tuple
        The frame with ``in_order_number_NAME`` for each, missing where the value is; its rows come in any
        order. And by name the frames of each value with its number, in the engine's order of values.
    """
    tables = {}
    for name in dict.fromkeys(names):
        number = f"in_order_number_{name}"
        # ``unique`` would sort the rows on some engines.
        values = frame.group_by(name).agg(nw.len().alias(number)).filter(~nw.col(name).is_null())
        tables[name] = values.select(name, nw.col(name).rank("dense").cast(nw.Int32).alias(number))
    told = frame
    for name, table in tables.items():
        told = told.join(table, on=name, how="left")
    return told, tables


def in_order(frame: Any, shifted: Mapping[str, str], *, game: str = "game") -> Any:
    """Put the pitches of a lazy frame in order, and find what is wrong with each plate appearance.

    Parameters
    ----------
    frame, shifted, game
        As for :func:`pitch_by_pitch`.

    Returns
    -------
    narwhals.LazyFrame
        With what that adds, and ``FAULT``: what is wrong with the row's plate appearance, 0 for nothing.
    """
    return with_faults(pitch_by_pitch(frame, shifted, game=game), game=game)


def with_faults(told: Any, *, game: str = "game") -> Any:
    """Tell each row what is wrong with its plate appearance, of what is wrong at its rows.

    Parameters
    ----------
    told
        From :func:`pitch_by_pitch`; rows at which nothing is wrong may have been left out of it.
    game
        As there.
    """
    return told.with_columns(nw.col(WRONG).max().over(game, APPEARANCE).alias(FAULT))


def pitch_by_pitch(frame: Any, shifted: Mapping[str, str], *, game: str = "game") -> Any:
    """Put the pitches of a lazy frame in order, and find what is wrong at each.

    Parameters
    ----------
    frame
        A lazy narwhals frame with ``game``, ``plate_appearance``, ``pitch`` and ``outcome``; ``bunt``,
        ``balls`` and ``strikes`` are looked at where they are there.
    shifted
        New column -> the column whose value of the pitch before it repeats, whatever is wrong with the order;
        missing on the first pitch.
    game
        A column that tells games apart as ``game`` does; a number is quicker than a name.

    Returns
    -------
    narwhals.LazyFrame
        With ``WHOLE``, whether the row has its whole key; ``APPEARANCE`` and ``PITCH``, its numbers, missing
        without one; ``FIRST``, whether it is its plate appearance's first row; ``WRONG``, what is wrong at
        this row, 0 for nothing; ``BALLS`` and ``STRIKES``, the balls, and the strikes and fouls, before it in
        the plate appearance, at most 9: no count where its fault is ``AFTER_END`` or graver, or the key is
        not whole.
    """
    schema = dict(frame.collect_schema())
    whole = nw.all_horizontal(
        *(known(name, schema) for name in ("game", "plate_appearance", "pitch")), ignore_nulls=False
    )
    foul = nw.col("outcome") == "foul"
    strike = nw.col("outcome").is_in(list(STRIKE_OUTCOMES))
    if "bunt" in schema:
        strike = strike | (foul & (nw.col("bunt") == True))  # noqa: E712  (an expression, not a test)
    step = nw.lit(_NOTHING)
    for condition, value in (
        (nw.col("outcome").is_in(list(ENDING_OUTCOMES)), _END),
        (foul, _FOUL),
        (strike, _STRIKE),
        (nw.col("outcome").is_in(list(BALL_OUTCOMES)), _BALL),
    ):
        step = nw.when(condition).then(nw.lit(value)).otherwise(step)
    # What goes through the windows is kept narrow: an engine holds all of it at once.
    said = {f"in_order_said_{name}": name for name in ("balls", "strikes") if name in schema}
    told = frame.with_columns(
        whole.alias(WHOLE),
        step.cast(nw.Int8).alias(_STEP),
        *(_said(name, schema).alias(new) for new, name in said.items()),
    )
    told = told.with_columns(
        # Rows without a whole key come apart from those that have it, in one group a game.
        _whole("plate_appearance", schema).alias(APPEARANCE),
        _whole("pitch", schema).alias(PITCH),
    )
    keys = (game, APPEARANCE)

    def before(column: nw.Expr) -> nw.Expr:
        return column.shift(1).over(*keys, order_by=PITCH)

    def so_far(condition: nw.Expr) -> nw.Expr:
        return nw.when(condition).then(nw.lit(1)).cum_count().over(*keys, order_by=PITCH).cast(nw.Int64)

    ball, struck = nw.col(_STEP) == _BALL, nw.col(_STEP).is_between(_STRIKE, _FOUL)
    told = told.with_columns(
        before(nw.col(PITCH)).alias(_BEFORE),
        before(nw.col(_STEP)).alias(_LAST),
        so_far(ball).alias(BALLS),
        so_far(struck).alias(STRIKES),
        *(before(nw.col(old)).alias(new) for new, old in shifted.items()),
    )
    told = told.with_columns(
        _at_most(nw.col(BALLS) - _one_where(ball), _MOST).cast(nw.Int8).alias(BALLS),
        _at_most(nw.col(STRIKES) - _one_where(struck), _MOST).cast(nw.Int8).alias(STRIKES),
    )
    # The third strike: two before it at least, whatever the fouls among them were.
    over = (
        (nw.col(BALLS) > 3) | (nw.col(_LAST) == _END) | ((nw.col(_LAST) == _STRIKE) & (nw.col(STRIKES) > 2))
    )
    wrong = nw.lit(0)
    for new, name in said.items():
        rebuilt = nw.col(BALLS) if name == "balls" else at_most_two(nw.col(STRIKES))
        wrong = nw.when(nw.col(new) != rebuilt).then(nw.lit(CONTRADICTED)).otherwise(wrong)
    for condition, value in (
        (over, AFTER_END),
        (nw.col(PITCH) != nw.coalesce(nw.col(_BEFORE) + 1, nw.lit(1)), GAP),
        (nw.col(PITCH) == nw.col(_BEFORE), TWICE),
    ):
        wrong = nw.when(condition).then(nw.lit(value)).otherwise(wrong)
    return told.with_columns(
        nw.when(nw.col(WHOLE)).then(wrong).otherwise(nw.lit(0)).cast(nw.Int8).alias(WRONG),
        nw.col(_BEFORE).is_null().alias(FIRST),
    ).drop(_STEP, _LAST, _BEFORE, *said)


def _said(name: str, schema: Mapping[str, Any]) -> nw.Expr:
    """Return a number of the count as it stands there, -1 for one that no count has."""
    told: nw.Expr = nw.when(known(name, schema)).then(nw.lit(-1))
    for number in range(4):
        told = nw.when(nw.col(name) == number).then(nw.lit(number)).otherwise(told)
    return told.cast(nw.Int8)


def has_order(frame: Any) -> bool:
    """Say whether it is a lazy narwhals frame of an engine with the windows that an order is made of."""
    return isinstance(frame, nw.LazyFrame) and str(frame.implementation.value) in _ENGINES


def rebuilt_beside(frame: Any) -> Any:
    """Put the count by the order of the pitches into a lazy frame: :func:`hitlab.pitches.rebuild_count`.

    Parameters
    ----------
    frame
        A lazy narwhals frame of such an engine.
    """
    own = frame.collect_schema().names()
    told = in_order(frame, {})
    sound = nw.col(WHOLE) & (nw.col(FAULT) < AFTER_END)
    told = told.with_columns(
        nw.when(sound).then(nw.col(BALLS)).cast(nw.Int64).alias("balls"),
        nw.when(sound).then(at_most_two(nw.col(STRIKES))).cast(nw.Int64).alias("strikes"),
    )
    return told.select(*dict.fromkeys((*own, "balls", "strikes")))


def at_most_two(strikes: nw.Expr) -> nw.Expr:
    """Return the strikes of the count, of which fouls are no third."""
    return _at_most(strikes, 2)


def _at_most(number: nw.Expr, most: int) -> nw.Expr:
    return nw.when(number > most).then(nw.lit(most)).otherwise(number)


def _one_where(condition: nw.Expr) -> nw.Expr:
    return nw.when(condition).then(nw.lit(1)).otherwise(nw.lit(0))


def is_dask(table: Any) -> bool:
    """Say whether it is a Dask frame: there whole games are put in order partition by partition."""
    return type(table).__module__.partition(".")[0] == "dask" and hasattr(table, "map_partitions")


def by_games(table: Any, work: Callable[..., Any], meta: Any, *given: Any) -> Any:
    """Let each partition of a Dask frame be worked on in memory, with whole games in each.

    Parameters
    ----------
    table
        The Dask frame, with ``game``.
    work
        Called with a pandas frame, which may have no rows, and ``given``.
    meta
        An empty frame as ``work`` returns them.
    *given
        What it is called with besides.
    """
    whole = table.shuffle("game") if table.npartitions > 1 else table
    return whole.map_partitions(work, *given, meta=meta)
