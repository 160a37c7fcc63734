"""What hitters are, from a table beside their counts: found by id, or by name where that tells them apart."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from os import PathLike
from pathlib import Path
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.counting.counts import LABELS_OF, Counts
from hitlab.errors import ClaimError, CountsError, MissingColumnsError
from hitlab.showing import quoted

__all__ = ["beside_counts", "frame_of_traits", "read_traits", "taken_beside", "trait_of"]

SMALLEST = 1e-12
"""Standard deviation of a number below which it does not vary."""


def frame_of_traits(traits: Any, groups: str | None, covariates: Sequence[str]) -> pd.DataFrame | None:
    """Return a table of traits as a pandas frame; ``None`` where there is none.

    Raises
    ------
    CountsError
        Where it is no table, nothing says what to take of it, or a covariate is named twice.
    """
    twice = next((name for name, times in Counter(covariates).items() if times > 1), None)
    if twice is not None:
        raise CountsError(f"covariates: {twice} is named twice; name each column once")
    if traits is None:
        return None
    try:
        frame: pd.DataFrame = nw.from_native(traits, eager_only=True).to_pandas()
    except TypeError as error:
        raise CountsError(
            f"traits= takes one table with one row a hitter, no {type(traits).__name__}"
        ) from error
    if not groups and not len(covariates):
        raise CountsError(
            "traits= says what the hitters are; say by groups= or covariates= what to take of it"
        )
    return frame


def taken_beside(
    table: Any, groups: str | None, covariates: Sequence[str], traits: Any, made_of: Sequence[str]
) -> tuple[Any, tuple[pd.DataFrame, ...]]:
    """Look at what rates shall follow, and take the covariates out of a plain table of counts.

    There they need not be whole, as counts must be.

    Parameters
    ----------
    table
        Counts, or any table of them.
    groups, covariates, traits
        As in :func:`~hitlab.shrink`.
    made_of
        Names of the counts that the rates are made of.

    Returns
    -------
    table
        What is left of it.
    told
        The tables of traits, for ``beside_counts``.

    Raises
    ------
    CountsError
        As ``frame_of_traits``; where covariates are no list, or a rate was to follow itself.
    """
    if isinstance(covariates, str):
        raise CountsError(f"covariates={covariates!r}: give a list of columns, such as [{covariates!r}]")
    for name, given in (("groups", [groups]), ("covariates", covariates)):
        own = [one for one in given if one in made_of]
        if own:
            raise CountsError(f"{name}: {own[0]} is what the rate is made of, and cannot explain it")
    frame = frame_of_traits(traits, groups, covariates)
    told = () if frame is None else (frame,)
    if isinstance(table, Counts) or not covariates:
        return table, told
    try:
        whole = nw.from_native(table, eager_only=True).to_pandas()
    except TypeError:
        return table, told  # as_counts says what is wrong with it
    inside = [name for name in covariates if name in whole.columns]
    keys = [n for n in whole.columns if n not in inside and not pd.api.types.is_numeric_dtype(whole[n])]
    return (whole.drop(columns=inside), (whole[[*keys, *inside]], *told)) if inside else (table, told)


def beside_counts(
    counts: Counts,
    groups: str | None,
    covariates: Sequence[str],
    told: tuple[pd.DataFrame, ...],
    notes: list[str],
) -> tuple[tuple[str, pd.Series[Any]] | None, dict[str, pd.Series[Any]]]:
    """Return groups and numbers by hitter, in the order of the counts, and note who has none.

    Those that are the same for everybody are left out, and that is noted.

    Parameters
    ----------
    counts
        The hitters.
    groups, covariates
        Names of columns, of the counts or of a table of traits.
    told
        Those tables, as ``taken_beside`` gives them.
    notes
        What a careful reader wants to know; what is missing is added.

    Raises
    ------
    MissingColumnsError, CountsError
        As ``trait_of``; where a covariate holds no numbers.
    """
    kinds = None
    if groups is not None:
        kinds = groups, trait_of(counts, groups, told)
        _note_missing(counts, groups, kinds[1].isna(), "stand at the mean of all", notes)
        if kinds[1].nunique() < 2:
            notes.append(f"everybody has the same {groups}, so it tells nothing")
            kinds = None
    numbers = {}
    for name in covariates:
        values = trait_of(counts, name, told)
        number = pd.to_numeric(values, errors="coerce")
        if values.notna().any() and not number.notna().any():
            raise CountsError(f"covariates: {name} holds no numbers; for words give groups={name!r}")
        known = np.isfinite(number.to_numpy(float))
        _note_missing(counts, name, ~known, f"stand at the mean {name}", notes)
        if not known.any() or number[known].std(ddof=0) < SMALLEST:
            notes.append(f"{name} does not vary, so it tells nothing")
        else:
            numbers[name] = number
    return kinds, numbers


def _note_missing(counts: Counts, name: str, missing: Any, where: str, notes: list[str]) -> None:
    places = np.flatnonzero(np.asarray(missing))
    if len(places):
        who = ", ".join(counts.labels[place] for place in places[:3])
        more = f" and {len(places) - 3:,} more" if len(places) > 3 else ""
        one = len(places) == 1
        notes.append(
            f"{name} is missing for {who}{more}, who {where.replace('stand', 'stands') if one else where}"
        )


def trait_of(counts: Counts, name: str, traits: tuple[pd.DataFrame, ...]) -> pd.Series[Any]:
    """Return a column of the counts or of a table of traits, in the order of the counts.

    Raises
    ------
    MissingColumnsError
        Where nothing has the column, or the traits lack what tells the hitters apart.
    CountsError
        Where a row names nobody, a hitter stands twice, a name is that of several, or nobody is found.
    """
    if name in counts.data.columns:
        return counts.data[name].reset_index(drop=True)
    told = next((frame for frame in traits if name in frame.columns), None)
    if told is None:
        where = "counts and in traits=" if traits else "counts"
        raise MissingColumnsError(
            f"there is no column {quoted(name)} in {where}; traits= takes a table with one row a hitter that "
            "has it"
        )
    keys = _keys(counts, told)
    # An id is the same as a number and as a text of it.
    unnamed = np.flatnonzero(told[keys].isna().any(axis=1))
    if len(unnamed):
        raise CountsError(
            f"traits, row {unnamed[0] + 1}: it lacks {' or '.join(keys)}, so nobody knows whose it is; "
            "fill it in, or leave the row out"
        )
    mine, theirs = (_joined(frame[keys].astype(str)) for frame in (counts.data, told))
    twice = np.flatnonzero(theirs.duplicated())
    apart = "" if keys == list(counts.by) else f", and tell those of one name apart by {counts.by[0]}"
    if len(twice):
        who = _called(theirs.iloc[twice[0]])
        raise CountsError(
            f"traits, row {twice[0] + 1}: the hitter stands there twice; keep one row a hitter{apart} ({who})"
        )
    several = mine[mine.duplicated() & mine.isin(theirs)]
    if len(several):
        raise CountsError(f"traits=: several hitters are called {_called(several.iloc[0])}{apart}")
    found = mine.map(pd.Series(told[name].to_numpy(), index=theirs.to_numpy()))
    if not mine.isin(theirs).any():
        raise CountsError(
            f"traits= tells {name} of nobody here: its {' and '.join(keys)} ({_called(theirs.iloc[0])}) "
            f"is none of the table's ({_called(mine.iloc[0])})"
        )
    return found.reset_index(drop=True)


def _joined(words: pd.DataFrame) -> pd.Series[Any]:
    """Put the columns of a row into one text."""
    first = words.iloc[:, 0]
    return first.str.cat(words.iloc[:, 1:], sep="\0") if words.shape[1] > 1 else first


def _keys(counts: Counts, told: pd.DataFrame) -> list[str]:
    """Return the columns by which the hitters are found: what tells them apart, or their names."""
    if set(counts.by) <= set(told.columns):
        return list(counts.by)
    names = [label for key in counts.by for label in LABELS_OF.get(key, ())[:1]]
    if len(counts.by) == 1 and names and names[0] in told.columns and names[0] in counts.data.columns:
        return names
    raise MissingColumnsError(
        f"traits= needs the columns that tell the hitters apart: {', '.join(counts.by)}"
        + (f" (or {names[0]})" if names else "")
    )


def _called(key: str) -> str:
    return " ".join(quoted(part) for part in key.split("\0"))


def read_traits(path: str | PathLike[str]) -> pd.DataFrame:
    """Read a table with one row a hitter.

    Parameters
    ----------
    path
        CSV, Parquet, Feather or Arrow.

    Raises
    ------
    ClaimError
        Where it cannot be read as a table.
    """
    file = Path(path)
    if not file.is_file():
        raise ClaimError(f"{file}: there is no such file of traits")
    try:
        if file.suffix.lower() == ".parquet":
            return pd.read_parquet(file)
        if file.suffix.lower() in (".feather", ".arrow"):
            return pd.read_feather(file)
        return pd.read_csv(file, dtype=str, encoding="utf-8-sig")
    except (OSError, ValueError, UnicodeError) as error:
        raise ClaimError(f"{file}: it cannot be read as a table of traits: {error}") from error
