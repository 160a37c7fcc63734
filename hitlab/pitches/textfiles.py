"""Text files (CSV and its kin) read as untouched cells, with every odd line reported.

Cells are read as text and judged later, once for each distinct value; nothing is guessed from
the first rows, so a code such as ``007`` stays what it was.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from pyarrow import csv as arrow_csv

from hitlab.errors import ReadingError
from hitlab.pitches.mapping import Mapping
from hitlab.pitches.origin import RaggedRow, Source

__all__ = ["open_text"]

_LARGEST = (1 << 31) - 1  # bytes that the parser takes in one block

_DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}
# As in TOML, for the line that an error tells the user to write.
_WRITTEN = {",": '","', ";": '";"', "\t": '"\\t"', "|": '"|"'}


def open_text(path: Path, mapping: Mapping) -> Source:
    """Read a delimited text file as cells of text.

    Parameters
    ----------
    path
        The file.
    mapping
        Its delimiter, encoding and header line, where they are not the usual ones.

    Raises
    ------
    ReadingError
        Where the bytes are not in the encoding, there is no row, the delimiter is wrong, or
        every row has another number of cells than the header.
    """
    text = _decode(path, mapping)
    first = mapping.header_line
    if first > 1:
        lines = text.split("\n", first - 1)
        if len(lines) < first:
            raise ReadingError(
                f"{path} has fewer than {first} lines; [file] header_line = {first} names a line that is not "
                "there."
            )
        text = lines[-1]
    first += len(text) - len(text.lstrip("\n"))
    text = text.lstrip("\n")
    if not text.strip():
        raise ReadingError(f"{path} is empty: there is nothing in it but blanks.")
    delimiter, said = _delimiter(path, text, mapping)
    table, invalid = _parse(path, text, delimiter)
    width = table.num_columns
    names = [name.strip() for name in table.column_names]
    if width == 1:
        for other, word in _DELIMITERS.items():
            if other != delimiter and other in names[0]:
                raise ReadingError(
                    f"{path} has a single column, called {names[0]!r}: its cells seem to be separated by "
                    f"a {word}, not by {delimiter!r}. Write in the mapping: "
                    f"[file] delimiter = {_WRITTEN[other]}"
                )
    if table.num_rows == 0 and not invalid:
        raise ReadingError(f"{path} has a header ({', '.join(names[:10])}) and no rows below it.")
    if table.num_rows == 0:
        number, expected, actual, line = invalid[0]
        raise ReadingError(
            f"Every row of {path} has another number of cells than the header. Line "
            f"{number + first - 1} has {actual}, the header {expected}: {line[:120]!r}. "
            "Give every column a name, or name the right delimiter in the mapping."
        )
    records = np.arange(2, table.num_rows + len(invalid) + 2)
    records = records[~np.isin(records, [number for number, *_ in invalid])]
    find_lines = _LineFinder(text, delimiter, first, table.num_rows + len(invalid) + 1)
    _check_last_quote(path, text, table, invalid, find_lines)
    table = table.rename_columns(names)
    blank = _blank_rows(table)
    if blank.any():
        said.append(f"{int(blank.sum())} blank line(s) were passed over.")
        table = table.filter(pa.array(~blank))
        records = records[~blank]
    if table.num_rows == 0:
        raise ReadingError(f"{path} has a header ({', '.join(names[:10])}) and only blank rows below it.")
    ragged = tuple(
        RaggedRow(number - 1, _cells(line, delimiter), expected, line)
        for number, expected, _, line in invalid
    )
    return Source(path.name, table, records - 1, find_lines, ragged, tuple(said))


def _decode(path: Path, mapping: Mapping) -> str:
    """Text of the file with plain line ends and without a byte-order mark."""
    try:
        data = path.read_bytes()
    except OSError as error:
        raise ReadingError(f"{path} cannot be read: {error.strerror or error}.") from error
    if len(data) > _LARGEST:
        raise ReadingError(f"{path} is larger than 2 GB. Save it as Parquet, or cut it into several files.")
    encoding = mapping.encoding or "utf-8"
    if mapping.encoding is None and data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        encoding = "utf-16"
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        bad = data[error.start : error.start + 1].hex()
        mend = "cp1252" if encoding.lower().replace("-", "") != "cp1252" else "utf-8"
        raise ReadingError(
            f"{path} is not {encoding}: byte {error.start + 1} (line {line}) is 0x{bad}. If it was saved by "
            f'a spreadsheet, write in the mapping: [file] encoding = "{mend}"'
        ) from error
    except (LookupError, ValueError, UnicodeError, TypeError, AttributeError) as error:
        raise ReadingError(
            f"{path} cannot be read with the encoding {encoding!r}: {error}. Such as 'utf-8' or 'cp1252'."
        ) from error
    text = text.removeprefix("\ufeff")
    return text.replace("\r\n", "\n").replace("\r", "\n") if "\r" in text else text


def _delimiter(path: Path, text: str, mapping: Mapping) -> tuple[str, list[str]]:
    """Delimiter named in the mapping, or the one that the header has most of."""
    if mapping.delimiter is not None:
        return mapping.delimiter, []
    header = text.split("\n", 1)[0]
    outside = "".join(header.split('"')[::2])  # what stands in quotes separates nothing
    counts = {one: outside.count(one) for one in _DELIMITERS}
    if path.suffix.lower() == ".tsv" and counts["\t"]:
        return "\t", []
    best = max(counts, key=lambda one: counts[one])
    if counts[best] == 0:
        return ",", []
    return best, [] if best == "," else [f"Cells are separated by a {_DELIMITERS[best]}."]


def _parse(path: Path, text: str, delimiter: str) -> tuple[pa.Table, list[tuple[int, int, int, str]]]:
    """Cells as text, and (record, expected, actual, text) of each line with a wrong number of cells."""
    invalid: list[tuple[int, int, int, str]] = []

    def note(row: arrow_csv.InvalidRow) -> str:
        invalid.append((row.number, row.expected_columns, row.actual_columns, row.text))
        return "skip"

    try:
        data = text.encode("utf-8")
        parse = arrow_csv.ParseOptions(
            delimiter=delimiter,
            newlines_in_values=True,
            ignore_empty_lines=False,
            invalid_row_handler=note,
        )
        # One thread and one block: only then are line numbers known, and no quoted cell is cut.
        block = min(max(len(data) + 1, 1 << 20), _LARGEST)
        options = arrow_csv.ReadOptions(use_threads=False, block_size=block)
        # The names first, read by the same parser, because types are declared by name.
        header = csv.reader(io.StringIO(text), delimiter=delimiter)
        next(header)
        top = "\n".join(text.split("\n", header.line_num)[: header.line_num]).encode("utf-8")
        names = arrow_csv.read_csv(pa.BufferReader(top + b"\n"), options, parse).column_names
        invalid.clear()
        convert = arrow_csv.ConvertOptions(
            column_types={name: pa.string() for name in names}, strings_can_be_null=False
        )
        table = arrow_csv.read_csv(pa.BufferReader(data), options, parse, convert)
    except (pa.ArrowException, ValueError, OSError, csv.Error, StopIteration) as error:
        raise ReadingError(
            f"{path} cannot be read as a text file with {delimiter!r} between the cells: "
            f"{(str(error).splitlines() or ['no reason given'])[0][:200]}. Name the right delimiter in the "
            'mapping, such as: [file] delimiter = ";"'
        ) from error
    columns = [
        column if pa.types.is_string(column.type) else pc.cast(column, pa.string())
        for column in table.columns
    ]
    return pa.table(columns, names=table.column_names), invalid


def _blank_rows(table: pa.Table) -> np.ndarray:
    """Rows in which every cell is empty."""
    blank = np.ones(table.num_rows, dtype=bool)
    for column in table.columns:
        blank &= pc.equal(pc.fill_null(column, ""), "").to_numpy()
        if not blank.any():
            break
    return blank


def _cells(line: str, delimiter: str) -> tuple[str, ...]:
    try:
        return tuple(next(csv.reader([line], delimiter=delimiter), ()))
    except csv.Error:
        return (line,)


def _check_last_quote(
    path: Path, text: str, table: pa.Table, invalid: list[tuple[int, int, int, str]], find_lines: _LineFinder
) -> None:
    """Refuse a file whose last row swallowed others because a quotation mark was never closed."""
    if text.count('"') % 2 == 0:
        return
    if invalid and invalid[-1][0] == find_lines.records:
        last = [invalid[-1][3]]
    else:
        last = [str(column[-1].as_py() or "") for column in table.columns]
    if any("\n" in cell.strip() for cell in last):
        lines = find_lines(np.array([find_lines.records - 1]))
        place = "" if lines is None else f" on line {int(lines[0])} or below"
        raise ReadingError(
            f'{path} has a quotation mark (") that is opened{place} and never closed, so that all that '
            "follows became one cell. Close it, or delete it."
        )


class _LineFinder:
    """Turns numbers of data rows into lines of the file, also where cells hold line breaks."""

    def __init__(self, text: str, delimiter: str, header_line: int, records: int) -> None:
        self.text = text
        self.delimiter = delimiter
        self.header_line = header_line
        self.records = records

    def __call__(self, rows: np.ndarray) -> np.ndarray | None:
        """Lines of the given data rows, from 1; None where they cannot be told."""
        lines = self.text.count("\n") + (not self.text.endswith("\n"))
        if lines == self.records:
            return np.asarray(rows) + self.header_line
        starts = []
        reader = csv.reader(io.StringIO(self.text), delimiter=self.delimiter)
        before = 0
        try:
            for _ in reader:
                starts.append(before + self.header_line)
                before = reader.line_num
        except csv.Error:
            return None
        if len(starts) != self.records:
            return None
        found: np.ndarray = np.array(starts)[np.asarray(rows)]
        return found
