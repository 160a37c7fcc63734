"""Sheets of a workbook (``.xlsx``, ``.ods``) as untouched cells, each with its own rows.

What a cell holds is read, never worked out: of a formula the value that the spreadsheet program stored, and
where a formula failed, what stands in its place. Nothing in a workbook is run.
"""

from __future__ import annotations

import datetime as dt
import io
import re
import statistics
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pyarrow as pa

from hitlab.errors import ReadingError
from hitlab.optional import load
from hitlab.pitches.mapping import TARGETS, Mapping, fold
from hitlab.pitches.origin import Bounds, LeftOut, Source
from hitlab.pitches.titles import names_groups
from hitlab.pitches.unpacking import SheetFacts, unpack
from hitlab.pitches.wordforms import many_rows

__all__ = ["Pieces", "known_names", "open_workbook"]

_LOOKED_AT = 30  # rows: no title is longer (a default)
_ENOUGH = 2  # names that are known make a header; one may stand in a title by chance
_NUMBER = re.compile(r"[+-]?[0-9]*\.?[0-9]+")
_TITLES_SHOWN = 3
_MOST_COLUMNS = 10_000  # a header with more is none


class Pieces(NamedTuple):
    """What a file consists of.

    Attributes
    ----------
    parts
        (name of the sheet, its cells); the name is empty where the file has no sheets.
    left_out
        Sheets that hold no table.
    """

    parts: list[tuple[str, Source]]
    left_out: list[LeftOut]


def known_names(mapping: Mapping) -> set[str]:
    """Names of columns that a mapping or our own table knows, folded.

    Parameters
    ----------
    mapping
        How the source is read.
    """
    told = (*TARGETS, *mapping.columns, *mapping.split, *mapping.keep, *mapping.also)
    return {fold(one) for one in told}


def open_workbook(data: bytes, path: Path, mapping: Mapping, bounds: Bounds) -> Pieces:
    """Read every sheet of a workbook that holds a table.

    Parameters
    ----------
    data
        The file.
    path
        Its name.
    mapping
        The names of columns that it knows tell where the header is; ``header_line`` says it.
    bounds
        How much is accepted.

    Raises
    ------
    ReadingError
        Where it is damaged, protected, larger than the bounds, or no workbook.
    MissingPackageError
        Where python-calamine is needed and not installed.
    """
    archive = unpack(data, str(path))
    book = _open(archive.packed, path)
    parts: list[tuple[str, Source]] = []
    left_out: list[LeftOut] = []
    for place, about in enumerate(book.sheets_metadata):
        title = str(about.name)
        facts = archive.sheets.get(title, SheetFacts())
        if fold(title) in mapping.skip:
            left_out.append(LeftOut(path.name, title, "the mapping says that it is not read", meant=True))
        elif str(about.typ).rpartition(".")[2] != "WorkSheet":
            left_out.append(LeftOut(path.name, title, "it is no sheet of cells", meant=True))
        else:
            sheet = _sheet(book, place, title, path, facts, bounds)
            visible = str(about.visible).rpartition(".")[2] == "Visible"
            one = _source(sheet, title, path, mapping, facts, archive.macros and not parts)
            if isinstance(one, LeftOut):
                left_out.append(one)
            elif not visible:
                reason = f"it is hidden ({many_rows(one.table.num_rows)}): unhide it to have it read"
                left_out.append(LeftOut(path.name, title, reason))
            else:
                parts.append((title, one))
    return Pieces(parts, left_out)


def _open(packed: bytes, path: Path) -> Any:
    calamine = load("python_calamine", "workbooks (a .csv needs nothing)", "spreadsheet")
    return _guarded(path, lambda: calamine.CalamineWorkbook.from_filelike(io.BytesIO(packed)))


def _guarded(path: Path, read: Any) -> Any:
    """Do something with the parser, whose own failures may be of a kind that is no usual error."""
    try:
        return read()
    except (KeyboardInterrupt, SystemExit, GeneratorExit, MemoryError):
        raise
    except BaseException as error:  # a panic of the parser is no Exception
        raise ReadingError(
            f"{path} cannot be read as a workbook: it is damaged, or not as workbooks are. Save it anew, or "
            f"as CSV. ({str(error)[:100]})"
        ) from error


class _Sheet(NamedTuple):
    """Cells of a sheet as text: ``rows[0]`` is its row ``top`` (from 0)."""

    rows: list[list[str]]
    top: int
    days: bool
    merged: list[tuple[int, int, int]]  # first and last row, and column, of each that spans several rows


def _sheet(book: Any, place: int, title: str, path: Path, facts: SheetFacts, bounds: Bounds) -> _Sheet:
    sheet = _guarded(path, lambda: book.get_sheet_by_index(place))
    start = sheet.start
    if start is None:
        return _Sheet([], 0, False, [])
    top, left = start
    if sheet.height > bounds.most_rows + _LOOKED_AT:
        raise ReadingError(
            f"{path}, {title} has more than {bounds.most_rows:,} rows. Cut it into several sheets, or, where "
            "so many are meant, say most_rows=."
        )
    days = False
    rows: list[list[str]] = []
    for cells in _guarded(path, lambda: sheet.to_python(skip_empty_area=True)):
        rows.append([_text(cell) for cell in cells])
        days = days or any(isinstance(cell, dt.date) for cell in cells)
    if any(len(cell.encode()) > bounds.largest_cell for row in rows for cell in row if len(cell) > 1000):
        raise ReadingError(f"{path}, {title} has a cell of more than {bounds.largest_cell:,} bytes.")
    for (row, column), said in facts.errors.items():
        if 0 <= row - top < len(rows) and 0 <= column - left < len(rows[row - top]):
            rows[row - top][column - left] = said
    merged: list[tuple[int, int, int]] = []
    ranges = _guarded(path, lambda: sheet.merged_cell_ranges) or facts.merged
    for (first_row, first_column), (last_row, last_column) in ranges:
        first, last, column = first_row - top, min(last_row - top, len(rows) - 1), first_column - left
        # A title over several columns says nothing of each.
        if last_column == first_column and 0 <= first < last and 0 <= column < len(rows[first]):
            merged += [(first, last, column)] if rows[first][column].strip() else []
    return _Sheet(rows, top, days, merged)


def _spread(sheet: _Sheet) -> _Sheet:
    """Give every row of each merged cell what stands in it, as names of columns are read."""
    if not sheet.merged:
        return sheet
    rows = [list(row) for row in sheet.rows]
    for first, last, column in sheet.merged:
        for row in range(first + 1, last + 1):
            rows[row][column] = rows[first][column]
    return sheet._replace(rows=rows)


def _text(cell: Any) -> str:
    """Give a cell as the text that a CSV would hold."""
    if isinstance(cell, str):
        return cell
    if isinstance(cell, bool):
        return "true" if cell else "false"
    if isinstance(cell, float):
        return f"{cell:.0f}" if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
    if isinstance(cell, dt.datetime):
        return cell.date().isoformat() if cell.time() == dt.time() else cell.isoformat(sep=" ")
    return cell.isoformat() if isinstance(cell, dt.date | dt.time) else str(cell)


def _source(
    sheet: _Sheet, title: str, path: Path, mapping: Mapping, facts: SheetFacts, macros: bool
) -> Source | LeftOut:
    """Give a sheet as a source, or say why it is none."""
    name = f"{path.name}, {title}"
    filled = [at for at, row in enumerate(sheet.rows) if any(cell.strip() for cell in row)]
    if not filled:
        return LeftOut(path.name, title, "it is empty", meant=True)
    headed = _spread(sheet)
    header = _header(headed, filled, mapping, name)
    if header is None:
        return LeftOut(path.name, title, "no row of it looks like names of columns")
    names = [cell.strip() for cell in headed.rows[header]]
    if len(names) > _MOST_COLUMNS:
        return LeftOut(path.name, title, f"it has {len(names):,} columns")
    said = []
    above = [sheet.rows[at] for at in filled if at < header]
    if above:
        shown = ", ".join(
            repr(next(cell.strip() for cell in row if cell.strip())[:80]) for row in above[:_TITLES_SHOWN]
        )
        rest = ", ..." if above[_TITLES_SHOWN:] else ""
        many = f"{len(above)} rows" if above[1:] else "1 row"
        said.append(f"{name}: {many} above the names of the columns passed over: {shown}{rest}.")
    again = [at for at in filled if at > header and _same(sheet.rows[at], names)]
    if again:
        said.append(
            f"{name}: the names of the columns stand again in {len(again):,} row(s), the first of them row "
            f"{sheet.top + again[0] + 1:,}, which are no pitches."
        )
    body = [at for at in filled if at > header and at not in set(again)]
    if not body:
        if header > filled[0]:
            reason = "nothing stands below its last row, which has names of columns"
            return LeftOut(path.name, title, reason, meant=True)
        reason = "there is no row below the names of its columns"
        return LeftOut(path.name, title, reason, meant=True, unfilled=tuple(names))
    between = body[-1] - header - len(body) - len(again)
    if between > 0:
        said.append(f"{name}: {between:,} blank row(s) were passed over.")
    if facts.formulas:
        said.append(f"{name}: {facts.formulas:,} cell(s) hold formulas; the stored values were read.")
    if facts.unstored:
        row, _ = min(facts.unstored)
        said.append(
            f"{name}: {len(facts.unstored):,} formula(s) without a stored value, the first in row "
            f"{row + 1:,}, are empty cells. Open it in the spreadsheet program and save it again."
        )
    if macros:
        said.append(f"{path.name} holds macros; they were not run.")
    columns: list[pa.DictionaryArray] = []
    kept: list[str] = []
    places: dict[int, int] = {}
    for place, one in enumerate(names):
        cells = [sheet.rows[at][place] for at in body]
        if one or any(cell.strip() for cell in cells):  # columns with nothing in them are none
            places[place] = len(kept)
            kept.append(one)
            columns.append(pa.array(cells, pa.string()).dictionary_encode())
    table = pa.table(columns, names=[str(place) for place in range(len(kept))]).rename_columns(kept)
    rows = np.array(body, dtype=np.int64) + (sheet.top + 1)
    merged = tuple(
        (places[column], first + sheet.top + 1, last + sheet.top + 1)
        for first, last, column in sheet.merged
        if column in places and last > header
    )
    return Source(name, table, rows, said=tuple(said), typed_days=sheet.days, merged=merged)


def _same(row: Sequence[str], names: Sequence[str]) -> bool:
    """Say whether a row repeats the names of the columns."""
    filled = [(fold(cell), fold(name)) for cell, name in zip(row, names, strict=True) if cell.strip()]
    return len(filled) > 1 and all(cell == name for cell, name in filled)


def _header(sheet: _Sheet, filled: list[int], mapping: Mapping, name: str) -> int | None:
    """Place of the row that holds the names of the columns."""
    if mapping.header_line is not None:
        at = next((at for at in filled if at + sheet.top >= mapping.header_line - 1), None)
        if at is None:
            raise ReadingError(
                f"{name} has fewer than {mapping.header_line} rows; [file] header_line = "
                f"{mapping.header_line} names a row that is not there."
            )
        return at
    known = known_names(mapping)
    looked_at = filled[:_LOOKED_AT]
    many = {at: len({fold(cell) for cell in sheet.rows[at]} & known) for at in looked_at}
    best = max(looked_at, key=lambda at: many[at])
    below = next((at for at in filled if at > best), None)
    if below is not None and names_groups(sheet.rows[best], sheet.rows[below], mapping):
        return below
    if many[best] >= _ENOUGH:
        return best
    # Names are texts, and there are about as many as there are cells in the rows below.
    widths = {at: sum(bool(cell.strip()) for cell in sheet.rows[at]) for at in filled}
    usual = statistics.median([widths[at] for at in filled])
    for at in looked_at:
        cells = [cell.strip() for cell in sheet.rows[at] if cell.strip()]
        textual = not any(_NUMBER.fullmatch(cell) for cell in cells)
        if len(cells) >= max(2, 0.75 * usual) and textual and len(set(map(fold, cells))) == len(cells):
            return at
    return None
