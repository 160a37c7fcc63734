"""Answers in the terminal: what the results say, laid out for people."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pandas as pd
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
    told = Text(label, style=label_style if label else "") + Text(shown(text), style=style)
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
    console.print(_table(claim.evidence_for_people()))
    if claim.not_shown_words:
        _print(console, claim.not_shown_words, "dim")
    console.print()
    if claim.became_words:
        _print(console, claim.became_words + ".", first=_INDENT)
    if len(claim.beside):
        console.print(_table(claim.beside_for_people()))
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
    console.print(_table(shown_rows.rename(columns=lambda name: str(name).replace("_", " "))))
    if left_out:
        _print(console, f"... and {left_out:,} more; --most shows them", "dim")
    for note in notes:
        _print(console, note + ".", label="Note: ")


def _table(rows: pd.DataFrame) -> Padding:
    grid = Table(box=None, pad_edge=False, header_style="bold")
    for name in rows.columns:
        text = pd.api.types.is_object_dtype(rows[name]) or pd.api.types.is_string_dtype(rows[name])
        numeric = not text or all(_is_numeric(value) for value in rows[name])
        head = Text(shown_name(name))
        # A long heading of numbers is wrapped, and they are not: else nothing has room beside it.
        long = numeric and len(head) > _LONG_HEAD
        grid.add_column(
            head,
            justify="right" if numeric else "left",
            no_wrap=numeric and not long,
            min_width=max((len(str(value)) for value in rows[name]), default=1) if long else None,
        )
    for row in rows.itertuples(index=False):
        grid.add_row(*(Text("" if pd.isna(value) else shown_name(value)) for value in row))
    return Padding(grid, (0, 0, 0, _INDENT))


def _is_numeric(value: Any) -> bool:
    return str(value).replace(".", "").replace("%", "").strip().isdigit() or value == "none"
