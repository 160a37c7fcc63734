"""Cells of one source column turned into values of one of ours, and the bad ones named.

Each distinct value of a column is judged once and the judgement is spread over the rows, so a
season of pitches costs about as much as its few thousand distinct values.
"""

from __future__ import annotations

import datetime as dt
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from collections.abc import Mapping as AnyMapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, overload

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

from hitlab.errors import ReadingError
from hitlab.pitches.converting import converted, written_decimals
from hitlab.pitches.dates import read_day
from hitlab.pitches.dictionaries import unified
from hitlab.pitches.mapping import SWING, UNDECIDED, Mapping, Split, accepted_units, fold
from hitlab.pitches.schema import COLUMNS, Column
from hitlab.pitches.sources import TEXT
from hitlab.pitches.telling import TOLD
from hitlab.pitches.wordforms import one_spelling

__all__ = [
    "OUT_OF_RANGE",
    "Cells",
    "Judged",
    "are_numbers",
    "constant_cells",
    "decimals_in",
    "judge",
    "kept_column",
    "source_cells",
    "spanned",
    "split_cells",
]

_NUMBER = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?")
_WIDE = str.maketrans("０１２３４５６７８９．＋－", "0123456789.+-")
_MINUS = re.compile("^[\u2212\u2013](?=[0-9.])")
_FLAGS = {
    "true": "true",
    "yes": "true",
    "y": "true",
    "t": "true",
    "1": "true",
    "1.0": "true",
    "1,0": "true",
    "false": "false",
    "no": "false",
    "n": "false",
    "f": "false",
    "0": "false",
    "0.0": "false",
    "0,0": "false",
}
_MANY = 10_000  # texts from which they are not listed before anybody asks
_BLANK, _LAST_PLAIN = 32, 126
OUT_OF_RANGE = "out of range"
"""Why a number is none that its column can hold."""

_SWING_COLUMN = Column(SWING, "flag", "the source's own swing flag")


class _Unlisted(Sequence[str]):
    """Many texts of plain signs and without blanks around them, and then ``""``; listed if anybody asks.

    Parameters
    ----------
    distinct
        The texts.
    """

    def __init__(self, distinct: pa.Array) -> None:
        self._distinct = distinct

    @cached_property
    def _list(self) -> list[str]:
        return [*self._distinct.to_pylist(), ""]

    def __len__(self) -> int:
        return len(self._distinct) + 1

    def __iter__(self) -> Iterator[str]:
        return iter(self._list)

    @overload
    def __getitem__(self, at: int) -> str: ...
    @overload
    def __getitem__(self, at: slice) -> list[str]: ...
    def __getitem__(self, at: int | slice) -> str | list[str]:
        return self._list[at]

    def values(self) -> pd.Series:
        """Give the texts as they stand, the last missing."""
        held = pa.concat_arrays([self._distinct, pa.nulls(1, self._distinct.type)])
        return pd.Series(pd.array(held, dtype=TEXT))


@dataclass(frozen=True, eq=False)
class Cells:
    """Distinct cells of a source column and where each stands.

    Attributes
    ----------
    codes
        For each row the place of its value in ``texts``; the last place is the empty cell.
    texts
        Distinct values as text, then ``""``.
    numbers
        The same as float64 where the source holds numbers, else None; the last is NaN.
    often
        Rows of each text in the whole source, where these rows are a piece of it; else None.
    decimals
        Decimals that the whole source's numbers usually have, likewise.
    """

    codes: np.ndarray
    texts: Sequence[str]
    numbers: np.ndarray | None = None
    often: np.ndarray | None = None
    decimals: int | None = None

    @property
    def times(self) -> np.ndarray:
        """Rows of each text, in the whole source where these are a piece of it: by them it is decided."""
        return self.here if self.often is None else self.often

    @cached_property
    def here(self) -> np.ndarray:
        """Rows of each text in these rows."""
        return np.bincount(self.codes, minlength=len(self.texts))

    def of_whole(self, times: AnyMapping[str, int]) -> Cells:
        """Give the same cells with the texts of the whole source, in its order.

        Parameters
        ----------
        times
            Text -> rows of the whole source.
        """
        texts = [*dict.fromkeys((*times, *self.texts[:-1])), ""]
        places = {text: place for place, text in reversed(list(enumerate(texts)))}
        codes = np.array([*(places[text] for text in self.texts[:-1]), len(texts) - 1], dtype=np.int64)
        numbers = None
        if self.numbers is not None:
            numbers = np.array([_number(text) for text in texts])
            numbers[codes] = self.numbers
        often = np.array([*(times.get(text, 0) for text in texts[:-1]), 0], dtype=np.int64)
        return replace(self, codes=codes[self.codes], texts=texts, numbers=numbers, often=often)


@dataclass(frozen=True, eq=False)
class Judged:
    """What the cells of one column became.

    Attributes
    ----------
    column
        Our column (or the swing flag).
    cells
        What they were.
    values
        One value for each of ``cells.texts``; missing where the cell is empty or bad.
    problems
        One reason for each of ``cells.texts``; ``""`` where nothing is wrong.
    step
        How far apart two numbers are that a column of another unit tells apart, in the table's unit; else 0.
    """

    column: Column
    cells: Cells
    values: pd.Series
    problems: np.ndarray
    step: float = 0.0

    def series(self) -> pd.Series:
        """Give the column, one value a row."""
        codes = self.cells.codes
        if len(codes) == len(self.values) - 1 and (codes == np.arange(len(codes))).all():
            return self.values.iloc[:-1]  # a text a row
        return pd.Series(self.values.array.take(codes))

    @cached_property
    def wrong(self) -> np.ndarray:
        """Say for each of ``cells.texts`` whether it could not be used."""
        return np.asarray(self.problems != "")

    def bad(self) -> np.ndarray:
        """Say for each row whether its cell could not be used."""
        wrong = self.wrong
        # Of most columns every cell is as it should be, and no row need be looked at.
        flags: np.ndarray = wrong[self.cells.codes] if wrong.any() else np.zeros(len(self.cells.codes), bool)
        return flags


def _number(text: str) -> float:
    return float(text) if _NUMBER.fullmatch(text) else np.nan


def source_cells(name: str, column: pa.ChunkedArray) -> Cells:
    """Distinct values of a source column of any type.

    Raises
    ------
    ReadingError
        For a column of lists, bytes or other things that are no cells of a table.
    """
    kind = column.type
    if pa.types.is_dictionary(kind):
        value = kind.value_type
        if (pa.types.is_string(value) or pa.types.is_large_string(value)) and len(column):
            return _dictionary_cells(name, column)
        column = column.cast(value)
        kind = column.type
    if pa.types.is_null(kind):
        return Cells(np.zeros(len(column), dtype=np.int64), [""])
    if pa.types.is_decimal(kind):
        column = column.cast(pa.float64())
        kind = column.type
    numeric = pa.types.is_integer(kind) or pa.types.is_floating(kind)
    textual = pa.types.is_string(kind) or pa.types.is_large_string(kind)
    plain = pa.types.is_boolean(kind) or pa.types.is_temporal(kind)
    if not (numeric or textual or plain):
        raise ReadingError(
            f"Column {name!r} holds {kind}, which cannot be read. "
            "Accepted: text, numbers, true or false, dates."
        )
    if pa.types.is_float16(kind):
        column = column.cast(pa.float32())
        kind = column.type
    encoded = unified(column.dictionary_encode()).combine_chunks()
    if isinstance(encoded, pa.ChunkedArray):
        encoded = encoded.chunk(0) if encoded.num_chunks else pa.array([], kind).dictionary_encode()
    distinct = encoded.dictionary
    codes = pc.fill_null(encoded.indices.cast(pa.int64()), len(distinct)).to_numpy(zero_copy_only=False)
    if not numeric:
        return Cells(codes, [*_texts(name, distinct), ""])
    plain = distinct.to_numpy(zero_copy_only=False)
    if pa.types.is_float32(kind):  # 95.1 in four bytes is meant as 95.1, not as what eight bytes make of it
        plain = np.array([float(str(value)) for value in plain], dtype=np.float64)
    numbers = np.append(plain.astype(np.float64), np.nan)
    # Whole numbers as such: an id of 12 that pandas holds as 12.0 is still 12.
    if pa.types.is_integer(kind):
        texts = [str(value) for value in distinct.to_pylist()]
    else:
        texts = [f"{x:.0f}" if x.is_integer() and abs(x) < 1e15 else repr(x) for x in numbers[:-1].tolist()]
        texts = ["" if text == "nan" else text for text in texts]
    return Cells(codes, [*texts, ""], numbers)


def _dictionary_cells(name: str, column: pa.ChunkedArray) -> Cells:
    """Distinct texts of a column that holds each once already, without those that no row has."""
    chunks = unified(column).chunks
    distinct = chunks[0].dictionary
    codes = np.concatenate([_places(chunk.indices) for chunk in chunks], dtype=np.int64)
    plain = len(distinct) >= _MANY and _is_plain(distinct)
    texts = _Unlisted(distinct) if plain else [*_texts(name, distinct), ""]
    many = len(distinct)
    # A dictionary may hold what is missing, too, and what no row has.
    gone = pc.is_null(distinct).to_numpy(zero_copy_only=False)
    blank = any(chunk.indices.null_count for chunk in chunks)
    here = np.bincount(codes[codes >= 0] if blank else codes, minlength=many)
    keep = (here > 0) & ~gone if many else np.zeros(0, dtype=bool)
    if keep.all() and not blank:
        return _counted(Cells(codes, texts), np.append(here, 0))
    new = np.full(many + 1, int(keep.sum()))  # the last place is the empty cell, also for -1
    new[:-1][keep] = np.arange(int(keep.sum()))
    return Cells(new[codes], [*(text for text, kept in zip(texts[:-1], keep, strict=True) if kept), ""])


def _is_plain(distinct: pa.Array) -> bool:
    """Say whether all are of signs of a keyboard, with something in each and no blanks around it."""
    if distinct.type != pa.string() or distinct.null_count:
        return False
    _, ends, signs = distinct.buffers()
    ends = np.frombuffer(ends, dtype=np.int32)[distinct.offset : distinct.offset + len(distinct) + 1]
    signs = np.frombuffer(signs, dtype=np.uint8)
    begin, end = int(ends[0]), int(ends[-1])
    if (np.diff(ends) == 0).any() or (signs[begin:end] > _LAST_PLAIN).any():
        return False
    return bool((signs[ends[:-1]] > _BLANK).all() and (signs[ends[1:] - 1] > _BLANK).all())


def _counted(cells: Cells, here: np.ndarray) -> Cells:
    """Say how many rows have each text, where that was counted already."""
    vars(cells)["here"] = here
    return cells


def _places(indices: pa.Array) -> np.ndarray:
    if indices.null_count:
        indices = pc.fill_null(indices.cast(pa.int64()), -1)
    return np.asarray(indices.to_numpy(zero_copy_only=False))


def _texts(name: str, distinct: pa.Array) -> list[str]:
    """Give distinct values as texts.

    Raises
    ------
    ReadingError
        Where bytes are no UTF-8, which a damaged Parquet file may hold under the name of text.
    """
    plain = pa.types.is_string(distinct.type) or pa.types.is_large_string(distinct.type)
    try:
        values = distinct.to_pylist()
        return values if plain and not distinct.null_count else [_as_text(value) for value in values]
    except UnicodeDecodeError as error:
        raise ReadingError(
            f"Column {name!r} holds text that is not UTF-8 (byte 0x{error.object[error.start]:02x}). Write "
            "the file anew with its text in UTF-8."
        ) from error
    except (ValueError, OverflowError):  # a day of a year that no calendar here has
        return [_one_text(value) for value in distinct]


def _one_text(value: pa.Scalar) -> str:
    try:
        return _as_text(value.as_py())
    except (ValueError, OverflowError):
        return f"{value.value} ({value.type})"


def constant_cells(value: str, rows: int) -> Cells:
    """Put the same cell in every row."""
    return Cells(np.zeros(rows, dtype=np.int64), [value, ""])


def spanned(cells: Cells, rows: np.ndarray, spans: Iterable[tuple[int, int]]) -> Cells:
    """Give each row of a merged cell what stands in its first.

    Parameters
    ----------
    cells
        Of one column.
    rows
        Their numbers, ascending.
    spans
        First and last row of each merged cell; one whose first row is none of these, as in a header, is left.
    """
    codes = cells.codes.copy()
    for first, last in spans:
        at, end = np.searchsorted(rows, [first, last + 1])
        if at < len(rows) and rows[at] == first:
            codes[at:end] = codes[at]
    return replace(cells, codes=codes)


def split_cells(cells: Cells, split: Split) -> tuple[list[Cells], np.ndarray]:
    """Cells that hold several values, taken apart.

    Returns
    -------
    tuple
        One :class:`Cells` for each column of ``split.into``, and for each distinct cell whether
        it could not be taken apart (then every part is missing).
    """
    width = len(split.into)
    parts = [[part.strip() for part in text.split(split.separator)] for text in cells.texts]
    wrong = np.array(
        [len(part) != width and text.strip() != "" for part, text in zip(parts, cells.texts, strict=True)]
    )
    empty = [""] * width
    whole = [part if len(part) == width else empty for part in parts]
    parts_of = ([part[place] for part in whole] for place in range(width))
    return [Cells(cells.codes, texts, often=cells.often) for texts in parts_of], wrong


def judge(
    target: str, cells: Cells, mapping: Mapping, *, told_only: bool = False, bounds: Column | None = None
) -> Judged:
    """Turn the distinct cells of one source column into values of one of ours.

    Parameters
    ----------
    target
        Our column, or ``swing``.
    cells
        From :func:`source_cells`.
    mapping
        Its words, units, decimal sign and date format are used.
    told_only
        Whether these are cells of another column, whose words tell this one, too: what a cell would mean if
        it stood in a column of its own (``t`` for true) it does not mean there.
    bounds
        Our column with other bounds than its own, if numbers are to be judged by them.
    """
    column = bounds or (_SWING_COLUMN if target == SWING else COLUMNS[target])
    words = mapping.words.get(target, {})
    if column.kind in ("number", "whole"):
        return Judged(column, cells, *_numbers(column, cells, words, mapping))
    found: list[Any] = []
    reasons: list[str] = []
    turn = _turner(column, mapping)
    telling = mapping.telling if target in TOLD else None
    waiting = mapping.undecided.get(target, frozenset()) if column.kind in ("word", "flag") else frozenset()
    if column.name == "clip" and not (words or mapping.missing or told_only):
        # A path is what it is, and every pitch has its own: as many texts as rows.
        if isinstance(cells.texts, _Unlisted):
            paths = cells.texts.values()
        else:
            paths = pd.Series(pd.array([text.strip() or None for text in cells.texts], dtype=TEXT))
        return Judged(column, cells, paths, np.full(len(paths), "", dtype=object))
    for text in cells.texts:
        word = _translate(text, words, mapping)
        said = bool(words) and fold(text) in words
        value, reason = (None, "") if word == "" or (told_only and not said) else turn(word)
        if telling and word and not said and (told_only or reason or fold(text) in telling.words):
            told = telling.told(word)
            if told is not None:
                part = told.get(target, "")
                value, reason = turn(part) if part else (None, "")
        if waiting and fold(text) in waiting:
            value, reason = turn(UNDECIDED)  # whatever it would mean if nobody had asked
        found.append(value)
        reasons.append(reason)
    if column.kind == "flag":
        values = pd.Series(pd.array(found, dtype="boolean"))
    elif column.kind == "date":
        values = pd.Series(np.array(found, dtype="datetime64[us]"))
    else:
        values = pd.Series(pd.array(found, dtype=TEXT))
    return Judged(column, cells, values, np.array(reasons, dtype=object))


def _translate(text: str, words: dict[str, str], mapping: Mapping) -> str:
    """Give the cell after trimming and translation; ``""`` where it is missing."""
    text = text.strip()
    if words or mapping.missing:
        folded = fold(text)
        if folded in words:
            return words[folded]
        if folded in mapping.missing:
            return ""
    return text


def _turner(column: Column, mapping: Mapping) -> Callable[[str], tuple[Any, str]]:
    """Make the function that turns one filled cell into (value, "") or (None, reason)."""
    if column.kind == "word":
        own = {fold(word): word for word in column.words}

        def word(text: str) -> tuple[Any, str]:
            value = own.get(fold(text))
            return value, "" if value else "not a known word"

        return word
    if column.kind == "flag":

        def flag(text: str) -> tuple[Any, str]:
            known = _FLAGS.get(fold(text))
            return (None, "neither true nor false") if known is None else (known == "true", "")

        return flag
    if column.kind == "date":
        return lambda text: read_day(text, mapping.date_format, mapping.year, mapping.typed_days)
    if column.name == "clip":  # a path is what it is
        return lambda text: (text, "")
    return lambda text: (one_spelling(text), "")


def _numbers(
    column: Column, cells: Cells, words: dict[str, str], mapping: Mapping
) -> tuple[pd.Series, np.ndarray, float]:
    """Numbers in the table's unit, and reasons, for each distinct cell; and the step between them."""
    values, problems, texts = _plain_numbers(column, cells, words, mapping)
    problems[np.isinf(values)] = "not a finite number"
    factor, step = mapping.factor(column.name), 0.0
    if factor != 1.0:
        values, step = converted(values, texts, cells.times, factor, cells.decimals)
    with np.errstate(invalid="ignore"):
        low = -np.inf if column.lowest is None else column.lowest
        high = np.inf if column.highest is None else column.highest
        outside = np.isfinite(values) & ~((values >= low) & (values <= high))
        if column.kind == "whole":
            problems[np.isfinite(values) & (values != np.floor(values))] = "not a whole number"
    problems[outside] = OUT_OF_RANGE
    values[problems != ""] = np.nan
    if column.kind == "whole":
        gone = np.isnan(values)
        whole = pd.arrays.IntegerArray(np.where(gone, 0, values).astype(np.int64), gone)
        return pd.Series(whole), problems, step
    return pd.Series(values), problems, step


def _plain_numbers(
    column: Column, cells: Cells, words: dict[str, str], mapping: Mapping
) -> tuple[np.ndarray, np.ndarray, list[str]]:
    """Numbers in the source's unit, reasons, and the texts, for each distinct cell."""
    if cells.numbers is not None and not words and not mapping.missing:
        values = cells.numbers.copy()
        return values, np.full(len(values), "", dtype=object), list(cells.texts)
    texts = [_translate(text, words, mapping) for text in cells.texts]
    if mapping.decimal == ",":
        texts = [text.replace(",", ".") for text in texts]
    return _parsed_numbers(column, texts, mapping)


def decimals_in(target: str, cells: Cells, mapping: Mapping) -> Counter[int]:
    """Count the rows by the decimals that their numbers are written with.

    Parameters
    ----------
    target
        Our column.
    cells, mapping
        As for :func:`judge`.
    """
    words = mapping.words.get(target, {})
    values, _, texts = _plain_numbers(COLUMNS[target], cells, words, mapping)
    decimals, many = written_decimals(values, texts, cells.times)
    found: Counter[int] = Counter()
    for one, times in zip(decimals.tolist(), many.tolist(), strict=True):
        found[one] += times
    return found


def _parsed_numbers(
    column: Column, texts: list[str], mapping: Mapping
) -> tuple[np.ndarray, np.ndarray, list[str]]:
    """Numbers, reasons, and the texts without the unit that some of them say."""
    here = mapping.units.get(column.name, column.unit)
    units = {unit: unit == here for unit in accepted_units(column.name)} if column.unit else {}
    units |= {"°": here == "deg"} if column.unit == "deg" else {}
    values = np.full(len(texts), np.nan)
    problems = np.full(len(texts), "", dtype=object)
    texts = [text if text.isascii() else _plain_signs(text) for text in texts]
    plain = list(texts)
    good = np.array([_NUMBER.fullmatch(text) is not None for text in texts], dtype=bool)
    values[good] = np.array(texts, dtype=object)[good].astype(np.float64)
    for place in np.flatnonzero(~good).tolist():
        text = texts[place]
        if text.lower().lstrip("+-") in ("inf", "infinity"):
            problems[place] = "not a finite number"
        elif text:
            number, unit = _with_unit(text, units)
            if unit is None:
                problems[place] = "not a number"
            elif units[unit]:
                values[place], plain[place] = float(number), number
            else:
                problems[place] = "in another unit than its column"
    return values, problems, plain


def _plain_signs(text: str) -> str:
    """Give a number in the signs of a keyboard: wide signs as plain ones, a printer's minus as a minus."""
    return _MINUS.sub("-", text.translate(_WIDE))


def _with_unit(text: str, units: Iterable[str]) -> tuple[str, str | None]:
    """Take a cell apart into its number and its unit; None where there is no unit in it."""
    small = text.casefold()
    for unit in sorted(units, key=len, reverse=True):  # "cm" before "m"
        if small.endswith(unit):
            number = text[: -len(unit)].rstrip()
            if _NUMBER.fullmatch(number):
                return number, unit
    return text, None


def kept_column(name: str, column: pa.ChunkedArray, numeric: bool | None = None) -> pd.Series:
    """Carry a source column along: numbers where every filled cell is one, else text as it stands.

    ``numeric`` says which of the two, where these rows are a piece of the source.
    """
    cells = source_cells(name, column)
    values: pd.Series
    if cells.numbers is not None:
        values = pd.Series(cells.numbers)
    elif (are_numbers(cells) is True) if numeric is None else numeric:
        values = pd.Series([float(text) if text else np.nan for text in cells.texts])
    else:
        values = pd.Series(pd.array([text or None for text in cells.texts], dtype=TEXT))
    return values.take(cells.codes).reset_index(drop=True)


def are_numbers(cells: Cells) -> bool | None:
    """Say whether every filled cell is a number, and none is a code such as 007; None where none is filled.

    Parameters
    ----------
    cells
        Of a column that is carried along.
    """
    filled = [text for text in cells.texts if text != ""]
    if not filled:
        return None
    return all(_NUMBER.fullmatch(text) for text in filled) and not _has_leading_zero(filled)


def _has_leading_zero(texts: list[str]) -> bool:
    """Whether a cell such as 007 shows that these are codes rather than numbers."""
    return any(len(text) > 1 and text[0] == "0" and text[1] != "." for text in texts)


def _as_text(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dt.datetime):
        return value.isoformat(sep=" ")
    return str(value)
