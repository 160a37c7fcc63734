"""Answers in the terminal: what the results say, laid out for people."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pandas as pd
from rich.cells import cell_len
from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from hitlab.claims.result import Claim
from hitlab.showing import shown, shown_name
from hitlab.wording import capitalised, rate_text

__all__ = ["print_claim", "print_table"]

_STYLES = {"holds": "bold green", "does not hold": "bold red", "open": "bold yellow"}


_INDENT = 2  # of all but the first line of a paragraph, and of tables: what is from the data begins no line
_LONG_HEAD = 20  # letters of a column's name
_LONG_WORD = 16  # of a name; a longer one may be broken
_GAP = 2  # between columns


def _console() -> Console:
    # Numbers in a sentence are not highlighted, and names in brackets or colons are not taken for markup.
    return Console(highlight=False, markup=False, emoji=False, soft_wrap=False)


def _print(
    console: Console,
    text: str,
    style: str = "",
    *,
    label: str = "",
    label_style: str = "bold",
    first: int = 0,
) -> None:
    """Print a paragraph, its later lines indented; the first as well where it begins with a name."""
    told = Text.assemble((label, label_style), (shown(text), style))
    lines = told.wrap(console, max(console.width - _INDENT, 1))
    for number, line in enumerate(lines):
        line.rstrip()
        console.print(Text(" " * (_INDENT if number else first)) + line)


def print_claim(claim: Claim) -> None:
    """Print a checked claim: verdict first, then the two sentences, the evidence and the small print."""
    console = _console()
    _print(console, claim.claim, label="Claim: ")
    _print(console, claim.verdict_line, _STYLES[claim.verdict], label="Verdict: ")
    console.print()
    _print(console, claim.say, label="Safe to say: ")
    _print(console, claim.say_in_full, label="In full: ")
    _print(console, claim.avoid, label="Avoid: ")
    _print(console, claim.follow_up, label="If asked again: ")
    console.print()
    _print_rows(console, claim.evidence_for_people())
    if claim.not_shown_words:
        _print(console, claim.not_shown_words, "dim")
    console.print()
    if claim.became_words:
        _print(console, claim.became_words + ".", first=_INDENT)
    if len(claim.beside):
        _print_rows(console, claim.beside_for_people())
        console.print()
    _print(console, claim.would_change + ".", label="What would change it: ")
    _print(console, "; ".join(claim.assumptions) + ".", label="Assumed: ")
    if claim.cannot_tell:
        _print(console, f"{capitalised(claim.cannot_tell)}.", "bold")
    for note in claim.notes:
        _print(console, note + ".", label="Note: ")
    _print(console, f"{claim.source}; counts {claim.fingerprint}", "dim", label="Source: ", label_style="dim")


def print_table(title: str, table: pd.DataFrame, notes: Sequence[str], left_out: int = 0) -> None:
    """Print a table of rates under its title, with the notes beneath and how many rows are not shown."""
    console = _console()
    _print(console, title, "bold")
    shown_rows = table.copy()
    for name in shown_rows.columns:
        if pd.api.types.is_float_dtype(shown_rows[name]):
            shown_rows[name] = [rate_text(value) for value in shown_rows[name]]
    _print_rows(console, shown_rows.rename(columns=lambda name: str(name).replace("_", " ")))
    if left_out:
        _print(console, f"... and {left_out:,} more; --most shows them", "dim")
    for note in notes:
        _print(console, note + ".", label="Note: ")


def _print_rows(console: Console, rows: pd.DataFrame) -> None:
    """Print a table; where its numbers have no room side by side, a paragraph a row, with every heading."""
    told = [
        [("" if pd.isna(one) else shown_name(one)) for one in row] for row in rows.itertuples(index=False)
    ]
    heads = [shown_name(name) for name in rows.columns]
    numeric = [_of_numbers(rows.iloc[:, place]) for place in range(len(heads))]
    least, most = [], []
    for place, (head, numbers) in enumerate(zip(heads, numeric, strict=True)):
        values = [row[place] for row in told]
        # A long heading of numbers is wrapped, and they are not: else nothing has room beside it.
        whole = [*values, *(head.split() if len(head) > _LONG_HEAD else [head])]
        words = [word for one in (head, *values) for word in one.split()]
        most.append(_widest(whole if numbers else [head, *values]))
        least.append(most[-1] if numbers else min(_widest(words), _LONG_WORD))
    widths = _side_by_side(least, most, console.width - _INDENT - _GAP * (len(heads) - 1))
    if widths is None:
        for row in told:
            each = [
                f"{head} {value}" for head, value in zip(heads[1:], row[1:], strict=True) if value.strip()
            ]
            _print(console, ", ".join(each), label=f"{row[0]}: ", first=_INDENT)
        return
    grid = Table(box=None, pad_edge=False, header_style="bold")
    for head, numbers, width in zip(heads, numeric, widths, strict=True):
        grid.add_column(Text(head), justify="right" if numbers else "left", width=width, overflow="fold")
    for row in told:
        grid.add_row(*map(Text, row))
    console.print(Padding(grid, (0, 0, 0, _INDENT)))


def _side_by_side(least: list[int], most: list[int], room: int) -> list[int] | None:
    """Give each column its width: what it wants up to one common bound, at least what it needs."""
    if sum(least) > room:
        return None
    widths = most
    for bound in range(max(most, default=0), 0, -1):
        if sum(widths) <= room:
            break
        widths = [max(low, min(bound, high)) for low, high in zip(least, most, strict=True)]
    return widths


def _widest(texts: list[str]) -> int:
    return max(map(cell_len, texts), default=0)


def _of_numbers(column: pd.Series[Any]) -> bool:
    text = pd.api.types.is_object_dtype(column) or pd.api.types.is_string_dtype(column)
    return not text or all(map(_is_numeric, column))


def _is_numeric(value: Any) -> bool:
    return str(value).replace(".", "").replace("%", "").strip().isdigit() or value == "none"
