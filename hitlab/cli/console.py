"""Answers in the terminal: what the results say, laid out for people."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pandas as pd
from rich.console import Console
from rich.table import Table
from rich.text import Text

from hitlab.claims.result import Claim
from hitlab.wording import rate_text

__all__ = ["print_claim", "print_table"]

_STYLES = {"holds": "bold green", "does not hold": "bold red", "open": "bold yellow"}


def _console() -> Console:
    # Numbers in a sentence are not highlighted, and names in brackets are not taken for markup.
    return Console(highlight=False, markup=False, soft_wrap=False)


def print_claim(claim: Claim) -> None:
    """Print a checked claim: verdict first, then the two sentences, the evidence and the small print."""
    console = _console()
    console.print(Text("Claim: ", style="bold") + Text(claim.claim))
    console.print(Text("Verdict: ", style="bold") + Text(claim.headline, style=_STYLES[claim.verdict]))
    console.print()
    console.print(Text("Safe to say: ", style="bold") + Text(claim.say))
    console.print(Text("Avoid: ", style="bold") + Text(claim.avoid))
    console.print()
    console.print(_table(claim.evidence_for_people()))
    if claim.not_shown_words:
        console.print(Text(claim.not_shown_words, style="dim"))
    console.print()
    if claim.became_words:
        console.print(Text(claim.became_words + "."))
    if len(claim.beside):
        console.print(_table(claim.beside_for_people()))
        console.print()
    console.print(Text("What would change it: ", style="bold") + Text(claim.would_change + "."))
    console.print(Text("Assumed: ", style="bold") + Text("; ".join(claim.assumptions) + "."))
    if claim.cannot_tell:
        console.print(Text(f"{claim.cannot_tell[0].upper()}{claim.cannot_tell[1:]}.", style="bold"))
    for note in claim.notes:
        console.print(Text("Note: ", style="bold") + Text(note + "."))
    console.print(Text(f"Source: {claim.source}; counts {claim.fingerprint}", style="dim"))


def print_table(title: str, table: pd.DataFrame, notes: Sequence[str], left_out: int = 0) -> None:
    """Print a table of rates under its title, with the notes beneath and how many rows are not shown."""
    console = _console()
    console.print(Text(title, style="bold"))
    shown = table.copy()
    for name in shown.columns:
        if pd.api.types.is_float_dtype(shown[name]):
            shown[name] = [rate_text(value) for value in shown[name]]
    console.print(_table(shown.rename(columns=lambda name: str(name).replace("_", " "))))
    if left_out:
        console.print(Text(f"... and {left_out:,} more; --most shows them", style="dim"))
    for note in notes:
        console.print(Text("Note: ", style="bold") + Text(note + "."))


def _table(shown: pd.DataFrame) -> Table:
    grid = Table(box=None, pad_edge=False, header_style="bold")
    for name in shown.columns:
        text = pd.api.types.is_object_dtype(shown[name]) or pd.api.types.is_string_dtype(shown[name])
        numeric = not text or all(_is_numeric(value) for value in shown[name])
        grid.add_column(str(name), justify="right" if numeric else "left", no_wrap=numeric)
    for row in shown.itertuples(index=False):
        grid.add_row(*(Text("" if pd.isna(value) else str(value)) for value in row))
    return grid


def _is_numeric(value: Any) -> bool:
    return str(value).replace(".", "").replace("%", "").strip().isdigit() or value == "none"
