"""What every result can do: print as text, show itself in a notebook, become a plain frame, be saved.

A result says once what it consists of, in :meth:`Result.contents`: paragraphs, notes, lists and tables in the
order of reading. Its text and its HTML are both made of these, so that neither says what the other does not.
Whatever of it is from the data is shown by the one rule of ``hitlab.showing``.
Most results are a title, notes and one table, and give only these.

>>> from dataclasses import dataclass
>>> @dataclass(frozen=True, slots=True)
... class Swings(Listing):
...     data: pd.DataFrame
...     notes: tuple[str, ...] = ()
...
...     @property
...     def title(self) -> str:
...         return f"Swings of {len(self)} hitters"
>>> print(Swings(pd.DataFrame({"hitter": ["Ada"], "swings": [12]}), ("bunts are none",)))
Swings of 1 hitters
  note: bunts are none
  hitter  swings
     Ada      12
"""

from __future__ import annotations

import io
import os
import re
import textwrap
from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields
from datetime import datetime, time
from html import escape
from pathlib import Path
from typing import Any, ClassVar

import pandas as pd

from hitlab.errors import HitlabError
from hitlab.optional import load
from hitlab.showing import shown, shown_lines, shown_name, storable
from hitlab.wording import capitalised
from hitlab.writing import AnyPath, files_read, write_file

__all__ = [
    "TABLE_ENDINGS",
    "Listing",
    "Note",
    "Part",
    "Points",
    "Result",
    "Table",
    "as_html",
    "as_text",
    "harmless",
    "save_table",
    "table_as_csv",
]

_NUMBER = re.compile(r"[+-]?([0-9]+([.,][0-9]*)?|[.,][0-9]+)([eE][+-]?[0-9]+)?")
# What makes a spreadsheet run a cell: these signs at its start (also full-width, also behind blanks).
_RUNS = re.compile(r"\s*[=+\-@＝＋－＠]|[\t\r\n]")
_MOST_SHEET_ROWS = 1_048_575  # of a spreadsheet file, below the line of names
_MOST_OF_A_CELL = 32_766  # characters in it, and an apostrophe in front


@dataclass(frozen=True, slots=True)
class Note:
    """A remark below the title, with the word that it begins with; ``""`` for none.

    In a text it is indented, so it is also the form of a sentence that begins with a name: one that reads
    like a line of ours, ``Verdict: HOLDS``, begins no line.
    """

    text: str
    label: str = "note"


@dataclass(frozen=True, slots=True)
class Points:
    """A heading and the lines that stand under it, if any."""

    heading: str
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class Table:
    """A table as people read it; one without rows is left out.

    Attributes
    ----------
    frame
        The table, its cells as they are shown.
    most_rows
        Of a longer table the first and the last rows are shown, together so many; ``None`` for all.
    most_columns
        The same for the columns of the text; a notebook has room for all.
    index
        Whether the frame's index says what the rows are.
    missing
        What stands for a missing value.
    """

    frame: pd.DataFrame
    most_rows: int | None = None
    most_columns: int | None = None
    index: bool = False
    missing: str = "NaN"


Part = str | Note | Points | Table
"""A part of a result; a text is a paragraph, an empty one a blank line of the printed text."""


class Result:
    """Base of all results.

    A subclass with a frame ``data`` gives a ``title``, and where wanted ``notes`` and ``table_for_people``;
    one that is built otherwise gives ``contents``, and ``table`` where it has no ``data``.
    """

    # ``data`` and ``notes`` are fields of the subclasses. They have no value here: a dataclass would take it
    # for the field's default. For the same reason no field bears the name of something defined here.
    __slots__ = ()
    data: pd.DataFrame

    MOST_ROWS: ClassVar[int | None] = 30
    """Rows of the table that are shown."""
    TEXT_WIDTH: ClassVar[int | None] = None
    """Letters in a line of the printed paragraphs; ``None`` for paragraphs in one line each."""

    def table(self) -> pd.DataFrame:
        """Return a copy as a plain pandas frame."""
        return self.data.copy()

    @property
    def title(self) -> str:
        """What is shown, in words."""
        return ""

    def table_for_people(self) -> pd.DataFrame:
        """Return the table as it is shown: in the order of reading, numbers as they are said."""
        return self.table()

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of, in the order of reading."""
        title = [self.title] if self.title else []
        notes: tuple[str, ...] = getattr(self, "notes", ())
        return [*title, *(Note(note) for note in notes), Table(self.table_for_people(), self.MOST_ROWS)]

    def save(self, path: str | os.PathLike[str]) -> Path:
        """Write the table, as :meth:`table` gives it.

        Parameters
        ----------
        path
            The file; its ending decides: ``.csv`` (UTF-8 with a byte-order mark, so that spreadsheets see
            accents), ``.parquet`` or ``.xlsx``. A file of that name is replaced once the new one is complete.
            In ``.csv`` and ``.xlsx`` what cannot be seen is written as an escape,
            and a cell that a spreadsheet would run as a formula gets an apostrophe in front; a ``.parquet``
            holds every text as it is, but for halves of surrogates, which no file can hold.

        Returns
        -------
        pathlib.Path
            The file written.

        Raises
        ------
        HitlabError
            Where the ending is another one, or the table has more rows than an ``.xlsx`` can hold.
        ReadingError
            Where the file cannot be written, or was read as a pitch table or a mapping.
        MissingPackageError
            Where XlsxWriter is needed and not installed.
        """
        return save_table(self.table(), path, inputs=(getattr(self, "source", None),))

    def __init_subclass__(cls, **options: Any) -> None:
        super().__init_subclass__(**options)
        # A dataclass gives its own only where the class itself has none.
        type.__setattr__(cls, "__repr__", Result._as_made)

    def _as_made(self) -> str:
        """Return the fields as a dataclass does, its texts as they are shown."""
        made: Any = type(self)
        told = ", ".join(f"{one.name}={getattr(self, one.name)!r}" for one in fields(made) if one.repr)
        return shown_lines(f"{type(self).__qualname__}({told})")

    def __str__(self) -> str:
        return as_text(self.contents(), self.TEXT_WIDTH)

    def _repr_html_(self) -> str:
        return as_html(self.contents())


class Listing(Result):
    """Base of results whose table has one row for each of many; ``len`` tells how many.

    As with a list, one without rows is false: ask ``is None`` where a result may be absent.
    """

    __slots__ = ()

    def __len__(self) -> int:
        return len(self.data)


def as_text(parts: Iterable[Part], width: int | None = None) -> str:
    """Return parts as text, paragraphs filled to a width where one is given."""
    lines = []
    for part in parts:
        if isinstance(part, Note):
            text = shown(part.text)
            text = f"  {part.label}: {text}" if part.label else f"  {text}"
            lines.append(textwrap.fill(text, width, subsequent_indent="    ") if width else text)
        elif isinstance(part, Points):
            heading = shown(part.heading)
            lines.append(f"{heading}:" if part.lines else heading)
            lines += [f"  {shown(line)}" for line in part.lines]
        elif isinstance(part, Table):
            if len(part.frame):
                table = _frame_shown(part).to_string(
                    index=part.index,
                    na_rep=part.missing,
                    max_rows=part.most_rows,
                    max_cols=part.most_columns,
                )
                # As with a note, a name begins no line.
                lines.append(textwrap.indent(table, "  "))
        else:
            text = shown(part)
            lines.append(textwrap.fill(text, width, subsequent_indent="  ") if width else text)
    return "\n".join(lines)


def as_html(parts: Iterable[Part]) -> str:
    """Return parts as HTML; whatever comes from the data is shown as in the text, and escaped."""
    pieces = []
    for part in parts:
        if isinstance(part, Note):
            label = f"{capitalised(part.label)}: " if part.label else ""
            pieces.append(f"<p>{escape(label + shown(part.text))}</p>")
        elif isinstance(part, Points):
            pieces.append(f"<p><b>{escape(shown(part.heading))}</b></p>")
            if part.lines:
                items = "".join(f"<li>{escape(shown(line.strip()))}</li>" for line in part.lines)
                pieces.append(f"<ul>{items}</ul>")
        elif isinstance(part, Table):
            if len(part.frame):
                pieces.append(
                    _frame_shown(part).to_html(
                        index=part.index,
                        na_rep=part.missing,
                        max_rows=part.most_rows,
                        escape=True,
                        border=0,
                    )
                )
        elif part:
            pieces.append(f"<p>{escape(shown(part))}</p>")
    return "\n".join(pieces)


def _frame_shown(part: Table) -> pd.DataFrame:
    """Return the rows of a table that can be seen, every text in it and over it as it is shown."""
    frame, rows = part.frame, part.most_rows
    columns = {}
    for place in range(frame.shape[1]):
        column = frame.iloc[:, place]
        cells = column.to_numpy(dtype=object) if _may_hold_text(column) else None
        if cells is not None:
            seen = range(len(cells)) if rows is None or len(cells) <= rows else _ends(len(cells), rows)
            changed = {at: told for at in seen if (told := _cell_shown(cells[at])) is not cells[at]}
            if changed:
                cells = cells.copy()
                cells[list(changed)] = list(changed.values())
                columns[place] = pd.Series(cells, index=frame.index, dtype=object)
    headings = [_cell_shown(name) for name in frame.columns]
    index = [_cell_shown(name) for name in frame.index] if part.index else []
    same = all(one is other for one, other in zip(headings, frame.columns, strict=True))
    if not columns and same and all(one is other for one, other in zip(index, frame.index, strict=False)):
        return frame
    parts = [columns.get(place, frame.iloc[:, place]) for place in range(frame.shape[1])]
    out = pd.concat(parts, axis="columns").set_axis(pd.Index(headings), axis="columns")
    return out.set_axis(pd.Index(index, name=frame.index.name)) if index else out


def _ends(rows: int, most: int) -> list[int]:
    return [*range(most), *range(rows - most, rows)]


def _may_hold_text(column: pd.Series[Any]) -> bool:
    kind = column.dtype
    return not (
        pd.api.types.is_numeric_dtype(kind)
        or pd.api.types.is_bool_dtype(kind)
        or pd.api.types.is_datetime64_any_dtype(kind)
    )


def _cell_shown(cell: Any) -> Any:
    """Return a cell or a name as it is shown; the very same where nothing of it changes."""
    if isinstance(cell, str):
        told = shown_name(cell)
        return cell if told == cell else told
    if isinstance(cell, datetime) and cell is not pd.NaT and cell.time() == time():
        return cell.date().isoformat()  # a day among other cells has no hour
    if isinstance(cell, tuple | list):
        parts = [_cell_shown(part) for part in cell]
        return (
            cell if all(one is other for one, other in zip(parts, cell, strict=True)) else type(cell)(parts)
        )
    return cell


def harmless(cell: Any) -> Any:
    """Return a cell with an apostrophe in front where a spreadsheet would run it as a formula."""
    if isinstance(cell, str) and _RUNS.match(cell) and not _NUMBER.fullmatch(cell):
        return "'" + cell
    return cell


def _in_a_sheet(cell: Any) -> Any:
    """Return a cell for a spreadsheet: what is unseen comes first, for signs behind it would run, too."""
    return harmless(shown(cell, _MOST_OF_A_CELL)) if isinstance(cell, str) else cell


def save_table(
    frame: pd.DataFrame, path: AnyPath, others: str = "", *, inputs: Iterable[AnyPath | None] = ()
) -> Path:
    """Write a frame as :meth:`Result.save` does.

    Parameters
    ----------
    frame
        The table.
    path
        The file; its ending decides.
    others
        What else the caller can write, for the message.
    inputs
        Files that were read for it; none of these is written over, nor what was read as a
        pitch table or a mapping.

    Returns
    -------
    pathlib.Path
        The file written.

    Raises
    ------
    HitlabError, ReadingError, MissingPackageError
        As :meth:`Result.save`.
    """
    path = Path(path)
    make = _MAKERS.get(path.suffix.lower())
    if make is None:
        raise HitlabError(
            f"{path.name}: a table is saved as .csv, .parquet or .xlsx{others}; end the name with one of them"
        )
    return write_file(path, make(frame), inputs=(*inputs, *files_read()))


def table_as_csv(frame: pd.DataFrame, *, first: bool = True) -> bytes:
    """Give the bytes of a table in a .csv file.

    Parameters
    ----------
    frame
        The table.
    first
        Whether it is the first of the file, or follows another of the same columns.
    """
    text: str = _harmless_table(frame).to_csv(index=False, header=first, lineterminator="\n")
    return text.encode("utf-8-sig" if first else "utf-8")


def _parquet(frame: pd.DataFrame) -> bytes:
    plain = frame.set_axis([storable(str(name)) for name in frame.columns], axis="columns")
    for name in plain.columns:
        kind = pd.api.types.infer_dtype(plain[name], skipna=True)
        # A Parquet column holds values of one kind; where several stand together, they are text.
        if kind.startswith("mixed") or (kind == "string" and plain[name].dtype == object):
            plain[name] = plain[name].map(lambda cell: storable(str(cell)), na_action="ignore")
    held = io.BytesIO()
    plain.to_parquet(held, engine="pyarrow", index=False)
    return held.getvalue()


def _xlsx(frame: pd.DataFrame) -> bytes:
    load("xlsxwriter", "spreadsheet files (a .csv needs nothing)", "spreadsheet")
    if len(frame) > _MOST_SHEET_ROWS:
        raise HitlabError(
            f"{len(frame):,} rows are more than an .xlsx can hold ({_MOST_SHEET_ROWS:,}); "
            "save them as .csv or .parquet"
        )
    plain = _harmless_table(frame)
    for name, kind in plain.dtypes.items():
        if isinstance(kind, pd.DatetimeTZDtype):  # a spreadsheet knows no time zones
            plain[name] = plain[name].map(str, na_action="ignore")
    held = io.BytesIO()
    # Text stays text: nothing is made a formula, a link or a number on the way.
    as_it_is = ("strings_to_formulas", "strings_to_urls", "strings_to_numbers")
    options = {"in_memory": True, **dict.fromkeys(as_it_is, False)}
    with pd.ExcelWriter(held, engine="xlsxwriter", engine_kwargs={"options": options}) as writer:
        plain.to_excel(writer, sheet_name="table", index=False, freeze_panes=(1, 0))
    return held.getvalue()


def _harmless_table(frame: pd.DataFrame) -> pd.DataFrame:
    columns = {
        _in_a_sheet(str(name)): frame[name]
        if pd.api.types.is_numeric_dtype(frame[name])
        else frame[name].map(_in_a_sheet)
        for name in frame.columns
    }
    return pd.DataFrame(columns, index=frame.index)


_MAKERS: dict[str, Callable[[pd.DataFrame], bytes]] = {
    ".csv": table_as_csv,
    ".parquet": _parquet,
    ".xlsx": _xlsx,
}
TABLE_ENDINGS = tuple(_MAKERS)
"""Endings of the files that a table can be saved as."""
