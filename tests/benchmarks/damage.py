"""Disguised and damaged files whose contents are known, and what the reader makes of them.

    python -m tests.benchmarks.damage [--files 2000] [--seed 0] [--workers 2] [--kind NAME]

Every file begins as the same kind of sheet of some hundred pitches. A disguise changes how it is written and
touches no row; a damage names the rows that it touches. A reading is judged by four things: no other error
than a reading error, and that only where it is allowed; every line of the file accounted for; every row that
was not touched is there with what stood in it; and each count is off by no more than the touched rows allow.
"""

from __future__ import annotations

import argparse
import csv
import gzip
import io
import json
import os
import tempfile
import time
import traceback
import unicodedata
import warnings
from collections import Counter
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
from pyarrow import feather, parquet

import hitlab
from hitlab.errors import HitlabWarning, ReadingError
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.schema import KEY
from hitlab.pitches.storing import open_checked, write_checked

NAMES = ["tag", "game", "date", "plate_appearance", "pitch", "hitter", "outcome", "count", "speed_mph"]
NAMES += ["exit_mph", "bunt", "level", "note"]
HITTERS = ['Ada "Ace" Frusk', "Zoé Plome", "Jiří Tsukidori", "Bo de la Vint"]
OUTCOMES = ["ball", "called strike", "whiff", "foul", "foul tip", "in play", "hit by pitch"]
SWINGS = {"whiff", "foul", "foul tip", "in play"}
SPLIT = {"split": {"count": {"into": ["balls", "strikes"]}}, "keep": ["tag"]}
COMPARED = ("hitter", "outcome", "exit_mph", "speed_mph", "bunt", "level", "date", "balls", "strikes")

SLASHED: dict[str, Any] = {"doublequote": False, "escapechar": "\\"}

_NUMBERS = ("exit_mph", "speed_mph", "balls", "strikes", "bunt")
_TALLIED = 5  # one file in so many

Rows = list[list[str]]
Rng = np.random.Generator


@dataclass
class Damaged:
    """A file, and what may be wrong in it.

    ``touched`` are the rows (from 0) that may be lost or changed, ``extra`` how many may have come in.
    """

    data: bytes
    touched: set[int] = field(default_factory=set)
    extra: int = 0
    mapping: dict[str, Any] = field(default_factory=dict)
    name: str = "sheet.csv"
    refused: bool | None = False  # True: must be, None: may be


def clean_rows(rng: Rng) -> Rows:
    """Make a sheet of some hundred pitches, no two alike."""
    many = int(rng.integers(60, 240))
    outcomes, hitters = rng.choice(OUTCOMES, many).tolist(), rng.choice(HITTERS, many).tolist()
    notes = rng.choice(["", "", "", "late", "looked good, he said", 'the "slow one"'], many).tolist()
    bunts = rng.choice(["true", "false", ""], many).tolist()
    counts, exits, speeds = (
        rng.integers(0, 12, many),
        rng.integers(600, 1120, many),
        rng.integers(700, 1000, many),
    )
    rows = []
    for i in range(many):
        game, rest = divmod(i, 60)
        rows.append(
            [
                f"t{i:04d}",
                f"G{game}",
                f"2019-05-{game + 4:02d}",
                str(rest // 4 + 1),
                str(rest % 4 + 1),
                hitters[i],
                outcomes[i],
                f"{counts[i] // 3}-{counts[i] % 3}",
                f"{speeds[i] / 10:.1f}",
                f"{exits[i] / 10:.1f}" if outcomes[i] == "in play" else "",
                bunts[i],
                "professional",
                notes[i],
            ]
        )
    return rows


def written(rows: Rows, names: list[str] | None = None, **how: Any) -> bytes:
    """Write rows as CSV."""
    how.setdefault("lineterminator", "\n")
    file = io.StringIO()
    writer = csv.writer(file, **how)
    writer.writerows([names or NAMES, *rows])
    return file.getvalue().encode()


KINDS: dict[str, Callable[[Rows, Rng], Damaged]] = {}


def kind(function: Callable[[Rows, Rng], Damaged]) -> Callable[[Rows, Rng], Damaged]:
    """Enter a kind under the name of its function."""
    KINDS[function.__name__.strip("_")] = function
    return function


def _entered(name: str, function: Callable[[Rows, Rng], Damaged]) -> None:
    KINDS[name] = function


def _changed(rows: Rows, column: str, change: Callable[[str], str]) -> Rows:
    place = NAMES.index(column)
    return [[change(cell) if at == place else cell for at, cell in enumerate(row)] for row in rows]


def _lines(rows: Rows) -> list[bytes]:
    return written(rows).rstrip(b"\n").split(b"\n")


def _some(rows: Rows, rng: Rng, most: int = 4) -> list[int]:
    many = int(rng.integers(1, most + 1))
    return sorted(int(x) for x in rng.choice(len(rows), many, replace=False))


# --- Disguises: another way of writing the same.

_entered("plain", lambda rows, rng: Damaged(written(rows)))
_entered("line_ends_of_two", lambda rows, rng: Damaged(written(rows, lineterminator="\r\n")))
_entered("line_ends_of_old", lambda rows, rng: Damaged(written(rows, lineterminator="\r")))
_entered("byte_order_mark", lambda rows, rng: Damaged(b"\xef\xbb\xbf" + written(rows)))
_entered("no_last_line_end", lambda rows, rng: Damaged(written(rows).rstrip(b"\n")))
_entered("semicolons", lambda rows, rng: Damaged(written(rows, delimiter=";")))
_entered("tabs", lambda rows, rng: Damaged(written(rows, delimiter="\t"), name="sheet.tsv"))
_entered("bars", lambda rows, rng: Damaged(written(rows, delimiter="|"), name="sheet.txt"))
_entered("all_quoted", lambda rows, rng: Damaged(written(rows, quoting=csv.QUOTE_ALL)))
_entered("backslashes_before_marks", lambda rows, rng: Damaged(written(rows, **SLASHED)))
_entered(
    "backslashes_all_quoted",
    lambda rows, rng: Damaged(
        written(
            _changed(rows, "note", lambda x: f'{x}\n"and" late' if x == "late" else x),
            quoting=csv.QUOTE_ALL,
            **SLASHED,
        )
    ),
)
_entered(
    "bare_marks",
    lambda rows, rng: Damaged(
        "".join(",".join(f'"{cell}"' for cell in row) + "\n" for row in (NAMES, *rows)).encode()
    ),
)
_entered("utf_16", lambda rows, rng: Damaged(written(rows).decode().encode("utf-16")))
_entered(
    "utf_16_named",
    lambda rows, rng: Damaged(
        written(rows).decode().encode("utf-16-le"), mapping={"file": {"encoding": "utf-16-le"}}
    ),
)
_entered(
    "utf_16_unnamed", lambda rows, rng: Damaged(written(rows).decode().encode("utf-16-le"), refused=True)
)
_entered(
    "two_line_notes",
    lambda rows, rng: Damaged(written(_changed(rows, "note", lambda x: f"{x}\nand late" if x else x))),
)
_entered(
    "long_notes",
    lambda rows, rng: Damaged(
        written(_changed(rows, "note", lambda x: "swung, missed; again\n\n" * 30 if x == "late" else x))
    ),
)
_entered("header_in_capitals", lambda rows, rng: Damaged(written(rows, [name.upper() for name in NAMES])))
_entered("header_with_blanks", lambda rows, rng: Damaged(written(rows, [f" {name} " for name in NAMES])))
_entered("header_quoted", lambda rows, rng: Damaged(written(rows, quoting=csv.QUOTE_NONNUMERIC)))
_entered("words_in_capitals", lambda rows, rng: Damaged(written(_changed(rows, "outcome", str.upper))))
_entered(
    "doubled_blanks",
    lambda rows, rng: Damaged(
        written(_changed(_changed(rows, "outcome", _wider), "hitter", lambda x: x.replace(" ", "  ")))
    ),
)
_entered(
    "hard_blanks",
    lambda rows, rng: Damaged(written(_changed(rows, "hitter", lambda x: x.replace(" ", "\xa0")))),
)
_entered(
    "cells_with_blanks", lambda rows, rng: Damaged(written([[f" {cell} " for cell in row] for row in rows]))
)
_entered(
    "apart_accents",
    lambda rows, rng: Damaged(
        written(
            _changed(rows, "hitter", lambda x: unicodedata.normalize("NFD", x) if rng.random() < 0.5 else x)
        )
    ),
)
_entered(
    "unseen_signs",
    lambda rows, rng: Damaged(
        written(_changed(rows, "hitter", lambda x: x[:3] + "\u200b" + x[3:] if rng.random() < 0.3 else x))
    ),
)
_entered(
    "flags_as_numbers",
    lambda rows, rng: Damaged(written(_changed(rows, "bunt", _as({"true": "1.0", "false": "0.0"})))),
)
_entered(
    "flags_as_words",
    lambda rows, rng: Damaged(written(_changed(rows, "bunt", _as({"true": "Yes", "false": "no"})))),
)
_entered("levels_in_capitals", lambda rows, rng: Damaged(written(_changed(rows, "level", str.title))))
_entered(
    "speeds_with_unit", lambda rows, rng: Damaged(written(_changed(rows, "speed_mph", lambda x: f"{x} mph")))
)
_entered(
    "speeds_with_zeros", lambda rows, rng: Damaged(written(_changed(rows, "speed_mph", lambda x: f"0{x}00")))
)
_entered(
    "kilometres",
    lambda rows, rng: Damaged(
        written(_changed(rows, "exit_mph", lambda x: x and f"{float(x) * 1.609344:.1f}")),
        mapping={"units": {"exit_mph": "km/h"}},
    ),
)
_entered(
    "metres",
    lambda rows, rng: Damaged(
        written(_changed(rows, "exit_mph", lambda x: x and f"{float(x) / 3600 * 1609.344:.2f}")),
        mapping={"units": {"exit_mph": "m/s"}},
    ),
)
_entered(
    "kilometres_in_full",
    lambda rows, rng: Damaged(
        written(_changed(rows, "exit_mph", lambda x: x and repr(float(x) * 1.609344))),
        mapping={"units": {"exit_mph": "km/h"}},
    ),
)
_entered(
    "decimal_commas",
    lambda rows, rng: Damaged(
        written(_changed(_changed(rows, "exit_mph", _comma), "speed_mph", _comma), delimiter=";"),
        mapping={"file": {"decimal": ","}},
    ),
)
_entered(
    "days_first",
    lambda rows, rng: Damaged(
        written(_changed(rows, "date", lambda x: f"{x[8:]}.{x[5:7]}.{x[:4]}")),
        mapping={"file": {"date_format": "%d.%m.%Y"}},
    ),
)
_entered(
    "days_with_times", lambda rows, rng: Damaged(written(_changed(rows, "date", lambda x: f"{x} 19:05:00")))
)
_entered(
    "own_words",
    lambda rows, rng: Damaged(
        written(_changed(rows, "outcome", _as({"whiff": "swung  through it", "foul": "K*?"}))),
        mapping={"words": {"outcome": {"Swung through it": "whiff", "k*?": "foul"}}},
    ),
)
_entered(
    "own_header",
    lambda rows, rng: Damaged(
        written(rows, [{"hitter": "Who", "outcome": "What, then"}.get(name, name) for name in NAMES]),
        mapping={"columns": {"Who": "hitter", "What, then": "outcome"}},
    ),
)
_entered(
    "header_with_line_break",
    lambda rows, rng: Damaged(written(rows, [*NAMES[:-1], "note\nof the coach"])),
)
_entered(
    "dashes_for_nothing",
    lambda rows, rng: Damaged(
        written(_changed(rows, "exit_mph", lambda x: x or "-")), mapping={"file": {"missing": ["-"]}}
    ),
)
_entered("a_title", lambda rows, rng: Damaged(b"Dunmarrow Larks, spring\n" + written(rows)))
_entered("a_title_and_blanks", lambda rows, rng: Damaged(b"\nDunmarrow Larks\n,,,,\n\n" + written(rows)))
_entered(
    "a_title_named",
    lambda rows, rng: Damaged(b"x\ny,z\n" + written(rows), mapping={"file": {"header_line": 3}}),
)
_entered(
    "one_column_more",
    lambda rows, rng: Damaged(written([[*row, "dry"] for row in rows], [*NAMES, "weather"])),
)


def _wider(text: str) -> str:
    return text.replace(" ", " \t ")


def _comma(text: str) -> str:
    return text.replace(".", ",")


def _as(words: dict[str, str]) -> Callable[[str], str]:
    return lambda text: words.get(text, text)


@kind
def columns_in_another_order(rows: Rows, rng: Rng) -> Damaged:
    order = rng.permutation(len(NAMES))
    return Damaged(written([[row[at] for at in order] for row in rows], [NAMES[at] for at in order]))


@kind
def lines_in_another_order(rows: Rows, rng: Rng) -> Damaged:
    return Damaged(written([rows[at] for at in rng.permutation(len(rows))]))


def _with_lines(rows: Rows, rng: Rng, lines: list[bytes], extra: int = 0) -> Damaged:
    whole = _lines(rows)
    for line in lines:
        whole.insert(int(rng.integers(1, len(whole) + 1)), line)
    return Damaged(b"\n".join(whole), extra=extra)


_entered("blank_lines", lambda rows, rng: _with_lines(rows, rng, [b"", b"  ", b"\t"]))
_entered("lines_of_separators", lambda rows, rng: _with_lines(rows, rng, [b"," * (len(NAMES) - 1)] * 3))
_entered(
    "lines_of_nonsense", lambda rows, rng: _with_lines(rows, rng, [b"-----", b"# a note, here", b"x" * 5000])
)
_entered("header_again", lambda rows, rng: _with_lines(rows, rng, [_lines(rows)[0]] * 2))
_entered("line_of_nothing_but_quotes", lambda rows, rng: _with_lines(rows, rng, [b'"""', b'"']))


@kind
def mixed_line_ends(rows: Rows, rng: Rng) -> Damaged:
    ends = rng.choice([b"\n", b"\r\n", b"\r"], len(rows) + 1)
    return Damaged(b"".join(line + end for line, end in zip(_lines(rows), ends, strict=True)))


@kind
def a_line_of_sums(rows: Rows, rng: Rng) -> Damaged:
    return Damaged(written([*rows, ["Total", "", "", "", "", "", str(len(rows)), *[""] * 6]]), extra=1)


@kind
def marks_of_two_kinds(rows: Rows, rng: Rng) -> Damaged:
    half = len(rows) // 2
    return Damaged(written(rows[:half]) + written(rows[half:], **SLASHED).partition(b"\n")[2])


@kind
def two_files_in_one(rows: Rows, rng: Rng) -> Damaged:
    half = len(rows) // 2
    return Damaged(written(rows[:half]) + written(rows[half:]))


# --- Damage to lines.


def _on_lines(rows: Rows, rng: Rng, change: Callable[[bytes], bytes], most: int = 4) -> Damaged:
    lines = _lines(rows)
    some = _some(rows, rng, most)
    for place in some:
        lines[place + 1] = change(lines[place + 1])
    return Damaged(b"\n".join(lines), set(some))


def _insert(line: bytes, rng: Rng, what: bytes, at: int | None = None) -> bytes:
    at = int(rng.integers(len(line) + 1)) if at is None else at
    return line[:at] + what + line[at:]


def _at_cell(line: bytes, rng: Rng, what: bytes) -> bytes:
    starts = [0, *(at + 1 for at, sign in enumerate(line) if sign == ord(","))]
    return _insert(line, rng, what, int(rng.choice(starts)))


for _name, _change in {
    "stray_quote_at_a_cell": lambda line, rng: _at_cell(line, rng, b'"'),
    "stray_quote_anywhere": lambda line, rng: _insert(line, rng, b'"'),
    "stray_quote_at_the_end": lambda line, rng: line + b'"',
    "doubled_quote_at_a_cell": lambda line, rng: _at_cell(line, rng, b'""'),
    "three_quotes_at_a_cell": lambda line, rng: _at_cell(line, rng, b'"""'),
    "separator_more": lambda line, rng: _insert(line, rng, b","),
    "separators_more": lambda line, rng: line + b",,,",
    "cut_line": lambda line, rng: line[: int(rng.integers(len(line)))],
    "cut_head": lambda line, rng: line[int(rng.integers(1, len(line))) :],
    "byte_that_is_no_text": lambda line, rng: _insert(line, rng, b"\xe9"),
    "many_bytes_that_are_no_text": lambda line, rng: bytes(rng.integers(128, 256, 60, dtype=np.uint8)),
    "nul": lambda line, rng: _insert(line, rng, b"\x00"),
    "control_signs": lambda line, rng: _insert(line, rng, b"\x1b\x07\x0c\x1a"),
    "line_break_within": lambda line, rng: _insert(line, rng, b"\n"),
    "old_line_break_within": lambda line, rng: _insert(line, rng, b"\r"),
    "line_in_semicolons": lambda line, rng: line.replace(b",", b";"),
    "line_in_tabs": lambda line, rng: line.replace(b",", b"\t"),
    "long_cell": lambda line, rng: _at_cell(line, rng, b"x" * 70_000),
    "signs_turned": lambda line, rng: line[::-1],
    "unicode_line_end": lambda line, rng: _insert(line, rng, "\u2028".encode()),
    "emptied_line": lambda line, rng: b"",
    "bytes_changed": lambda line, rng: _noise(line, rng, 3),
    "noise": lambda line, rng: _noise(line, rng, 30),
}.items():
    _entered(
        _name,
        lambda rows, rng, change=_change: _on_lines(rows, rng, lambda line: change(line, rng)),
    )


def _noise(line: bytes, rng: Rng, many: int) -> bytes:
    data = bytearray(line)
    for at in rng.integers(0, len(data), many):
        data[at] = int(rng.integers(256))
    return bytes(data)


@kind
def lost_closing_quotes(rows: Rows, rng: Rng) -> Damaged:
    whole = written(rows, quoting=csv.QUOTE_ALL).rstrip(b"\n").split(b"\n")
    some = _some(rows, rng)
    for place in some:
        at = [i for i, sign in enumerate(whole[place + 1]) if sign == ord('"')]
        lost = int(rng.choice(at))
        whole[place + 1] = whole[place + 1][:lost] + whole[place + 1][lost + 1 :]
    return Damaged(b"\n".join(whole), set(some))


@kind
def lines_gone(rows: Rows, rng: Rng) -> Damaged:
    some = set(_some(rows, rng))
    return Damaged(written([row for place, row in enumerate(rows) if place not in some]), some)


@kind
def lines_twice(rows: Rows, rng: Rng) -> Damaged:
    lines = _lines(rows)
    for place in reversed(_some(rows, rng)):
        lines.insert(place + 2, lines[place + 1])
    return Damaged(b"\n".join(lines))


@kind
def lines_joined(rows: Rows, rng: Rng) -> Damaged:
    lines = _lines(rows)
    at = int(rng.integers(1, len(lines) - 1))
    lines[at : at + 2] = [lines[at] + lines[at + 1]]
    return Damaged(b"\n".join(lines), {at - 1, at})


@kind
def cut_file(rows: Rows, rng: Rng) -> Damaged:
    lines = _lines(rows)
    at = int(rng.integers(2, len(lines)))
    cut = lines[at][: int(rng.integers(len(lines[at])))]
    return Damaged(b"\n".join([*lines[:at], cut]), set(range(at - 1, len(rows))))


# --- Damage to bytes, wherever they stand below the header.


def _on_bytes(rows: Rows, rng: Rng, change: Callable[[bytearray, int], int]) -> Damaged:
    """``change`` gets the bytes and a place, changes them in place and says how many it has touched."""
    data = bytearray(written(rows))
    first = data.index(b"\n") + 1
    at = int(rng.integers(first, len(data)))
    before = bytes(data)
    many = change(data, at)
    begin = before.count(b"\n", 0, at) - 1
    end = before.count(b"\n", 0, min(at + many, len(before))) - 1
    last = begin - 1 if before[at - 1 : at] == b"\n" and many > 0 else begin
    return Damaged(bytes(data), {place for place in range(last, end + 1) if 0 <= place < len(rows)})


@kind
def one_bit(rows: Rows, rng: Rng) -> Damaged:
    def flip(data: bytearray, at: int) -> int:
        data[at] ^= 1 << int(rng.integers(8))
        return 1

    return _on_bytes(rows, rng, flip)


@kind
def byte_gone(rows: Rows, rng: Rng) -> Damaged:
    def drop(data: bytearray, at: int) -> int:
        del data[at]
        return 1

    return _on_bytes(rows, rng, drop)


@kind
def byte_more(rows: Rows, rng: Rng) -> Damaged:
    def add(data: bytearray, at: int) -> int:
        data.insert(at, int(rng.integers(256)))
        return 1

    return _on_bytes(rows, rng, add)


@kind
def piece_gone(rows: Rows, rng: Rng) -> Damaged:
    def drop(data: bytearray, at: int) -> int:
        many = int(rng.integers(1, 900))
        del data[at : at + many]
        return many

    return _on_bytes(rows, rng, drop)


@kind
def piece_overwritten(rows: Rows, rng: Rng) -> Damaged:
    def overwrite(data: bytearray, at: int) -> int:
        many = min(int(rng.integers(1, 900)), len(data) - at)
        data[at : at + many] = bytes(rng.integers(0, 256, many, dtype=np.uint8))
        return many

    return _on_bytes(rows, rng, overwrite)


@kind
def piece_of_zeros(rows: Rows, rng: Rng) -> Damaged:
    def overwrite(data: bytearray, at: int) -> int:
        many = min(int(rng.integers(1, 900)), len(data) - at)
        data[at : at + many] = bytes(many)
        return many

    return _on_bytes(rows, rng, overwrite)


# --- Damage to cells.


def _on_cells(column: str, value: Callable[[str, Rng], str]) -> Callable[[Rows, Rng], Damaged]:
    def change(rows: Rows, rng: Rng) -> Damaged:
        some, place = _some(rows, rng), NAMES.index(column)
        changed = [list(row) for row in rows]
        for at in some:
            changed[at][place] = value(changed[at][place], rng)
        return Damaged(written(changed), set(some))

    return change


for _column, _value in {
    "outcome": lambda x, rng: x[:-1] + "q",
    "hitter": lambda x, rng: "",
    "game": lambda x, rng: "",
    "pitch": lambda x, rng: "one",
    "speed_mph": lambda x, rng: x.replace("0", "O") + "O",
    "exit_mph": lambda x, rng: "1e999",
    "level": lambda x, rng: "profesional",
    "date": lambda x, rng: "0219-05-04",
    "bunt": lambda x, rng: "perhaps",
    "count": lambda x, rng: "3:2",
    "note": lambda x, rng: '"\n"\n' * 5,
}.items():
    _entered(f"slip_in_{_column}", _on_cells(_column, _value))


@kind
def cells_swapped(rows: Rows, rng: Rng) -> Damaged:
    some = _some(rows, rng)
    changed = [list(row) for row in rows]
    for at in some:
        one, other = (int(x) for x in rng.choice(np.arange(1, len(NAMES)), 2, replace=False))
        changed[at][one], changed[at][other] = changed[at][other], changed[at][one]
    return Damaged(written(changed), set(some))


# --- Files of other kinds.

_entered("packed", lambda rows, rng: Damaged(gzip.compress(written(rows)), refused=True))
_entered(
    "as_json",
    lambda rows, rng: Damaged(
        json.dumps([dict(zip(NAMES, r, strict=True)) for r in rows]).encode(), refused=True
    ),
)
_entered(
    "as_web_page",
    lambda rows, rng: Damaged(
        _frame(rows).to_html().encode().replace(b"<table", b"<html><table", 1), refused=True
    ),
)
_entered("parquet", lambda rows, rng: Damaged(_parquet(rows), name="sheet.parquet"))
_entered("parquet_called_csv", lambda rows, rng: Damaged(_parquet(rows), name="sheet.csv"))
_entered("feather", lambda rows, rng: Damaged(_feather(rows), name="sheet.feather"))
_entered(
    "parquet_cut", lambda rows, rng: Damaged(_cut(_parquet(rows), rng), name="sheet.parquet", refused=True)
)
_entered(
    "feather_cut", lambda rows, rng: Damaged(_cut(_feather(rows), rng), name="sheet.feather", refused=True)
)
_entered("saved", lambda rows, rng: Damaged(_saved(rows), name="sheet.saved.parquet"))
_entered(
    "saved_cut", lambda rows, rng: Damaged(_cut(_saved(rows), rng), name="sheet.saved.parquet", refused=True)
)


@kind
def saved_with_one_bit(rows: Rows, rng: Rng) -> Damaged:
    data = bytearray(_saved(rows))
    data[int(rng.integers(len(data)))] ^= 1 << int(rng.integers(8))
    return Damaged(bytes(data), name="sheet.saved.parquet", refused=True)


def _frame(rows: Rows) -> pd.DataFrame:
    return pd.DataFrame(rows, columns=NAMES)


def _parquet(rows: Rows) -> bytes:
    file = io.BytesIO()
    parquet.write_table(pa.Table.from_pandas(_frame(rows)), file)
    return file.getvalue()


def _feather(rows: Rows) -> bytes:
    file = io.BytesIO()
    feather.write_feather(_frame(rows), file)
    return file.getvalue()


def _saved(rows: Rows) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        return write_checked(_frame(rows), Path(folder) / "t.parquet", SPLIT).read_bytes()


def _cut(data: bytes, rng: Rng) -> bytes:
    return data[: int(rng.integers(10, len(data)))]


# --- The judge.


def expected(rows: Rows) -> pd.DataFrame:
    """What an undamaged sheet reads as, by tag."""
    frame = _frame(rows).set_index("tag")
    return frame.assign(**_true_columns(rows))


def _true_columns(rows: Rows) -> dict[str, np.ndarray]:
    """What is compared of an undamaged sheet, a value a row; NaN and "" where nothing stands."""
    columns = dict(zip(NAMES, zip(*rows, strict=True), strict=True))
    flags = {"true": 1.0, "false": 0.0}
    numbers = {
        "balls": [float(count[0]) for count in columns["count"]],
        "strikes": [float(count[2]) for count in columns["count"]],
        "exit_mph": [float(x) if x else np.nan for x in columns["exit_mph"]],
        "speed_mph": [float(x) for x in columns["speed_mph"]],
        "bunt": [flags.get(x, np.nan) for x in columns["bunt"]],
    }
    return {
        **{name: np.array(values) for name, values in numbers.items()},
        "date": np.array(columns["date"], dtype="datetime64[us]"),
        **{name: np.array(columns[name], dtype=object) for name in ("hitter", "outcome", "level")},
    }


def judged(name: str, seed: int, number: int) -> str:
    """Read one file of a kind; what is wrong with the reading, or nothing."""
    rng = np.random.default_rng([seed, number])
    rows = clean_rows(rng)
    made = KINDS[name](rows, rng)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / made.name
        path.write_bytes(made.data)
        try:
            if made.name.endswith(".saved.parquet"):
                opened = open_checked(path)
                table, report = opened.df(), None
                counts = _counts(opened, number)
            else:
                reading = read_pitches(path, SPLIT | made.mapping)
                table, report = reading.table, reading.report
                counts = _counts(reading, number)
        except ReadingError as error:
            if made.refused is False:
                return f"refused: {error}"
            return "" if path.name in str(error) else f"the error does not name the file: {error}"
        except Exception:
            return traceback.format_exc()
    if made.refused:
        return "not refused"
    return _of_lines(made, report) or _of_rows(rows, made, table) or _of_counts(rows, made, table, counts)


def _counts(pitches: Any, number: int) -> dict[str, int]:
    """Tally a part of the files: that takes longer than all the rest, and the words are counted in each."""
    if number % _TALLIED:
        return {}
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", HitlabWarning)
        data = hitlab.tally(pitches).data
    return {name: int(data[name].sum()) for name in ("pitches", "swings", "hard") if name in data}


def _of_lines(made: Damaged, report: Any) -> str:
    if report is None or report.lines is None:
        return ""
    data = made.data
    if made.name.endswith((".csv", ".tsv", ".txt")) and (
        data[:2] == b"\xff\xfe" or "encoding" in str(made.mapping)
    ):
        data = data.decode("utf-16" if data[:2] == b"\xff\xfe" else "utf-16-le").encode()
    data = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    in_file = data.count(b"\n") + (not data.endswith(b"\n"))
    lines = report.lines
    if lines.in_file != in_file or lines.unaccounted:
        return f"{in_file} lines, but {lines}"
    if report.rows_kept + report.rows_set_aside != report.rows_read:
        return f"{report.rows_kept} + {report.rows_set_aside} rows are not {report.rows_read}"
    return ""


def _of_rows(rows: Rows, made: Damaged, table: pd.DataFrame) -> str:
    true = _true_columns(rows)
    tags = [str(tag) for tag in table["tag"]] if "tag" in table else [""] * len(table)
    place_of = {row[0]: place for place, row in enumerate(rows)}
    found: dict[int, int] = {}
    again = set()
    # A damaged row may take over the key of another, of which the later one is then a repeat.
    taken = set()
    keys = list(zip(*(table[name].astype(str) for name in KEY), strict=True))
    for at, tag in enumerate(tags):
        place = place_of.get(tag)
        if place is None or place in made.touched:
            taken.add(keys[at])
        if place is not None:
            again.add(place) if place in found else found.setdefault(place, at)
    if again - made.touched:
        return f"rows that stand twice: {[rows[place][0] for place in sorted(again)][:5]}"
    key = [NAMES.index(name) for name in KEY]
    whole = [
        place
        for place, row in enumerate(rows)
        if place not in made.touched and tuple(row[at] for at in key) not in taken
    ]
    lost = [rows[place][0] for place in whole if place not in found]
    if lost:
        return f"{len(lost)} undamaged rows are lost: {lost[:5]}"
    places = np.array([found[place] for place in whole], dtype=np.int64)
    for column in COMPARED:
        was = true[column][whole]
        if column in _NUMBERS:
            read = table[column].astype("Float64").to_numpy(float, na_value=np.nan)[places]
            same = np.isclose(read, was, rtol=0, atol=1e-12, equal_nan=True)
        elif column == "date":
            read = table[column].to_numpy("datetime64[us]")[places]
            same = read == was
        else:
            read = table[column].to_numpy(object)[places]
            same = read == was
        if not same.all():
            at = int(np.flatnonzero(~same)[0])
            return f"{column} of {rows[whole[at]][0]} is {read[at]!r} and was {was[at]!r}"
    return ""


def _of_counts(rows: Rows, made: Damaged, table: pd.DataFrame, counts: dict[str, int]) -> str:
    allowed = len(made.touched) + made.extra
    outcomes = Counter(row[6] for row in rows)
    read = Counter(table["outcome"])
    true = {
        "pitches": len(rows),
        "swings": sum(outcomes[word] for word in SWINGS)
        - sum(row[6] in SWINGS and row[10] == "true" for row in rows),
        "hard": sum(row[9] != "" and float(row[9]) >= 95 and row[10] != "true" for row in rows),
    }
    for name, number in true.items():
        if name in counts and abs(counts[name] - number) > allowed:
            return f"{name}: {counts[name]}, and {number} in truth, with {allowed} rows touched"
    for word in outcomes | read:
        if abs(outcomes[word] - read[word]) > allowed:
            return f"{word}: {read[word]}, and {outcomes[word]} in truth, with {allowed} rows touched"
    return ""


def one(task: tuple[str, int, int]) -> tuple[str, int, float, str]:
    """Judge one file, and time it."""
    name, seed, number = task
    start = time.perf_counter()
    wrong = judged(name, seed, number)
    return name, number, time.perf_counter() - start, wrong


def run(
    files: int, seed: int = 0, workers: int = 2, only: str | None = None
) -> list[tuple[str, int, float, str]]:
    """Judge so many files, all kinds in turn.

    Parameters
    ----------
    files
        How many.
    seed
        Of what is drawn; every file has its own number besides.
    workers
        Processes.
    only
        One kind; all where left out.
    """
    names = [only] if only else list(KINDS)
    tasks = [(names[number % len(names)], seed, number) for number in range(files)]
    if workers == 1:
        return [one(task) for task in tasks]
    # Not forked: the threads of a parser do not live on in a fork.
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        return list(pool.map(one, tasks, chunksize=20))


def main() -> None:
    """Run what the options ask for."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--files", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--workers", type=int, default=min(2, os.cpu_count() or 1))
    parser.add_argument("--kind", choices=list(KINDS))
    asked = parser.parse_args()
    start = time.perf_counter()
    found = run(asked.files, asked.seed, asked.workers, asked.kind)
    wrong = [(name, number, said) for name, number, _, said in found if said]
    for name, number, said in wrong[:30]:
        print(f"{name} ({number}): {said[-1500:]}\n")
    kinds = len({name for name, *_ in found})
    print(
        f"{len(found):,} files of {kinds} kinds in {time.perf_counter() - start:.0f} s, {len(wrong):,} wrong"
        f"{': ' + str(dict(Counter(name for name, *_ in wrong))) if wrong else ''}"
    )


if __name__ == "__main__":
    main()
