"""Where the header of a text file stands: sheets often have a title above it."""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Sequence

from hitlab.errors import ReadingError
from hitlab.pitches.heading_words import is_heading
from hitlab.pitches.mapping import TARGETS, Mapping, fold
from hitlab.pitches.quoting import cells_of

__all__ = ["DELIMITERS", "find_header", "names_groups"]

DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}
"""What separates cells, and how it is called."""

_LOOKED_AT = 30  # lines: no title is longer (a default)
_MOSTLY = 0.6  # of the cells of a row are names of columns, where a row of groups stands above (a default)
_ENOUGH = 2  # names that are known make a header; one may stand in a title by chance


def find_header(name: str, lines: Sequence[bytes], mapping: Mapping) -> int:
    """Place (from 0) of the line that holds the names of the columns.

    Parameters
    ----------
    name
        The file, for messages.
    lines
        The first lines of the file.
    mapping
        Its ``header_line``, where it says one, the names that it knows, and whether to guess.

    Raises
    ------
    ReadingError
        Where the mapping names a line that is not there, or the first line looks like a title and no line
        holds names that are known.
    """
    if mapping.header_line is not None:
        if len(lines) < mapping.header_line:
            raise ReadingError(
                f"{name} has fewer than {mapping.header_line} lines; [file] header_line = "
                f"{mapping.header_line} names a line that is not there."
            )
        after = range(mapping.header_line - 1, len(lines))
        return next((at for at in after if lines[at].strip()), mapping.header_line - 1)
    filled = [at for at, line in enumerate(lines) if line.strip()]
    if not filled:
        return 0
    first, looked_at = filled[0], filled[:_LOOKED_AT]
    known = {fold(one) for one in (*TARGETS, *mapping.columns, *mapping.split, *mapping.keep, *mapping.also)}
    delimiters = DELIMITERS if mapping.delimiter is None else {mapping.delimiter: ""}

    def names_in(at: int) -> int:
        return max(len({fold(cell) for cell in cells_of(lines[at], one)} & known) for one in delimiters)

    best = max(looked_at, key=names_in)
    below = next((at for at in filled if at > best), None)
    if below is not None and any(
        names_groups(cells_of(lines[best], one), cells_of(lines[below], one), mapping) for one in delimiters
    ):
        return below
    if names_in(best) >= _ENOUGH and names_in(best) > names_in(first):
        return best
    seems = _below_title(lines, looked_at, delimiters) if names_in(first) == 0 else None
    if seems is None:
        return first
    header, usual = seems
    if not mapping.guess_header:
        text = lines[first].decode("utf-8", errors="replace")[:120]
        raise ReadingError(
            f"The first line of {name} has one cell, {text!r}, and those below it have {usual}. If it is "
            f"a title and the names of the columns stand on line {header + 1}, write in the mapping: "
            f"[file] header_line = {header + 1}"
        )
    return header


def names_groups(above: Sequence[str], below: Sequence[str], mapping: Mapping) -> bool:
    """Say whether a row names groups of columns, and the row below it the columns.

    Cells of the upper one span several columns, of which the others are empty; the lower one has a name that
    people write over columns nearly everywhere, and more of them.

    Parameters
    ----------
    above, below
        Cells of two rows that follow each other.
    mapping
        What it names stands in the row that it means.
    """
    named = {fold(one) for one in (*mapping.columns, *mapping.split, *mapping.keep)}
    if named & set(map(fold, above)):
        return False
    upper, lower = ([cell.strip() for cell in row if cell.strip()] for row in (above, below))
    spanned = sum(not one.strip() and bool(other.strip()) for one, other in zip(above, below, strict=False))
    known = [cell for cell in lower if is_heading(cell)]
    return (
        len(above) == len(below)
        and len(upper) > 1  # one is a title
        and spanned > 1
        and len(known) >= _MOSTLY * len(lower)
        and len(known) > sum(map(is_heading, upper))
        and len(set(map(fold, lower))) == len(lower)
    )


def _below_title(
    lines: Sequence[bytes], looked_at: list[int], delimiters: Iterable[str]
) -> tuple[int, int] | None:
    """Give the line that seems to hold the names where the first looks like a title, and the usual cells."""
    first, below = looked_at[0], looked_at[1:]
    found = []
    for one in delimiters:
        cells = cells_of(lines[first], one)
        rows = {at: cells_of(lines[at], one) for at in below}
        usual = statistics.mode(map(len, rows.values())) if rows else 1
        filled = sum(cell.strip() != "" for cell in cells)
        if filled > 1 and len(cells) == usual:
            return None  # as many names as cells: other signs below it are in cells, as decimal commas are
        found.append((rows, usual, filled))
    for rows, usual, filled in found:
        if len(rows) > 1 and usual > 1 and filled <= 1:
            wide = [at for at, cells in rows.items() if len(cells) == usual]
            # A second title has commas behind it, too, where a program wrote them.
            told = [at for at in wide if sum(cell.strip() != "" for cell in rows[at]) > 1]
            many = {at: sum(map(is_heading, rows[at])) for at in told}
            best = max(told, key=lambda at: many[at], default=wide[0])
            return (best if many.get(best, 0) >= _ENOUGH else (told or wide)[0]), usual
    return None
