r"""Quotation marks within cells: doubled, after a backslash (``\"``), bare, and mixed in one file."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import numpy as np
import pytest

from hitlab.errors import ReadingError
from hitlab.pitches.escaping import Quotes
from hitlab.pitches.quoting import RowLikeness, still_open, structure
from hitlab.pitches.reading import Reading, read_pitches

HEAD = ["hitter", "outcome", "note", "clip"]
ROWS = [
    ["Ada Frusk", "ball", "", "a.mp4"],
    ['Ada "Ace" Frusk', "whiff", 'late, he said: "again"', "b.mp4"],
    ['"Bo"', "foul", '"', ""],
    ['Bo "de la" Vint', "in play", 'two lines:\n"one", and\ntwo', "c.mp4"],
    ["Ada Frusk", "whiff", "plain, though", "d.mp4"],
]


def _written(rows: list[list[str]], slashed: bool, *, delimiter: str = ",", quoting: int = 0) -> str:
    file = io.StringIO()
    how = {"doublequote": False, "escapechar": "\\"} if slashed else {}
    writer = csv.writer(file, lineterminator="\n", delimiter=delimiter, quoting=quoting, **how)  # type: ignore[arg-type]
    writer.writerows(rows)
    return file.getvalue()


def _read(folder: Path, text: str, keep: bool = True) -> Reading:
    path = folder / "sheet.csv"
    path.write_text(text, encoding="utf-8", newline="")
    reading = read_pitches(path, {"keep": ["note"]} if keep else None)
    lines = reading.report.lines
    assert lines is not None
    assert lines.in_file == text.count("\n") + (not text.endswith("\n"))
    assert not lines.unaccounted
    return reading


def _cells(reading: Reading) -> list[list[str]]:
    return reading.table[HEAD].fillna("").to_numpy().tolist()


def _of_marks(reading: Reading) -> list[str]:
    return [said for said in reading.report.assumed if "quotation mark" in said]


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("quoting", [csv.QUOTE_MINIMAL, csv.QUOTE_ALL])
@pytest.mark.parametrize("slashed", [False, True])
def test_both_ways_to_write_a_mark_are_read_as_what_was_meant(
    tmp_path: Path, delimiter: str, quoting: int, slashed: bool
) -> None:
    reading = _read(tmp_path, _written([HEAD, *ROWS], slashed, delimiter=delimiter, quoting=quoting))
    assert _cells(reading) == ROWS
    assert reading.set_aside.empty
    said = [
        '3 rows, the first on line 3, have quotation marks within a cell that are written \\" in place of ""'
    ]
    assert [one.partition(";")[0] for one in _of_marks(reading)] == (said if slashed else [])


def test_a_file_that_mixes_them_is_read_row_by_row(tmp_path: Path) -> None:
    text = _written([HEAD, *ROWS], False) + _written(ROWS, True, quoting=csv.QUOTE_ALL)
    reading = _read(tmp_path, text)
    assert _cells(reading) == ROWS + ROWS
    assert reading.table["hitter"].nunique() == 4
    assert "3 rows, the first on line 10" in _of_marks(reading)[0]


@pytest.mark.parametrize(
    "row",
    [
        r'"Ada \"Ace"" Frusk",whiff,,',  # both ways in one cell
        r'"Ada ""Ace\" Frusk",whiff,,',
        r'"Ada \"Ace\" Frusk",whiff,"C:\clips\",',  # a backslash that is none of them
        r'"Ada \"Ace" Frusk",whiff,,',
        r'Ada \"Ace" Frusk,whiff,,',
        r'"Ada Frusk"Ace,whiff,,',
        r'"Ada ""Ace" Frusk",whiff,,',
        r'"Ada "Ace", Frusk",whiff,,',
        r'"Ada \"Ace\" Frusk,whiff,,',  # not closed at all
    ],
)
def test_a_row_that_no_way_fits_is_set_aside_with_its_line(tmp_path: Path, row: str) -> None:
    before, after = _written([HEAD, *ROWS[:2]], False), _written(ROWS[3:], True, quoting=csv.QUOTE_ALL)
    reading = _read(tmp_path, before + row + "\n" + after)
    assert _cells(reading) == ROWS[:2] + ROWS[3:]
    assert reading.set_aside["line"].tolist() == [4]
    assert "quotation mark" in reading.set_aside["reason"][0]
    assert reading.set_aside["value"][0] == row


def test_a_path_that_ends_in_a_backslash_stays_what_it_is(tmp_path: Path) -> None:
    paths = ["C:\\clips\\", "\\\\hall\\one\\", "a\\b.mp4"]
    rows = [["Ada Frusk", "whiff", "of, three", path] for path in paths]
    reading = _read(tmp_path, _written([HEAD, *rows], False, quoting=csv.QUOTE_ALL))
    assert reading.table["clip"].tolist() == paths
    assert reading.set_aside.empty
    assert not _of_marks(reading)


def test_only_the_backslash_before_a_mark_goes(tmp_path: Path) -> None:
    row = r'"Ada \"Ace\" Frusk","whiff","","C:\clips\a.mp4"'
    reading = _read(tmp_path, f"{','.join(HEAD)}\n{row}\n")
    assert reading.table["clip"].tolist() == ["C:\\clips\\a.mp4"]


@pytest.mark.parametrize("name", ['Ada "Ace" Frusk', 'Ada "Ace"', '"Ace" Frusk', 'Ada "the "Ace" Frusk'])
def test_bare_marks_within_a_quoted_cell_belong_to_it(tmp_path: Path, name: str) -> None:
    text = f'{",".join(HEAD)}\n"Bo","ball","",""\n"{name}","whiff","late, again",""\n'
    reading = _read(tmp_path, text)
    assert reading.table["hitter"].tolist() == ["Bo", name]
    assert reading.table["note"].tolist()[1] == "late, again"
    assert "1 row on line 3 has quotation marks within a cell that are not doubled" in _of_marks(reading)[0]


def test_a_row_that_two_ways_fit_is_set_aside(tmp_path: Path) -> None:
    row = r'"x\",",\\",",y","z"'  # four cells in either way, and not the same
    text = "note,clip,hitter,outcome\n" + "x,y,Bo,ball\n" + row + "\n"
    reading = _read(tmp_path, text)
    assert reading.set_aside["line"].tolist() == [3]
    assert "or in two" in reading.set_aside["reason"][0]


def test_names_of_columns_may_have_marks_too(tmp_path: Path) -> None:
    text = r'hitter,outcome,"the \"note\"",clip' + "\nAda Frusk,whiff,x,\nBo,ball,,\n"
    reading = _read(tmp_path, text, keep=False)
    assert reading.table["hitter"].tolist() == ["Ada Frusk", "Bo"]
    assert 'the "note"' in reading.report.unused


def test_a_row_over_several_lines_that_never_closes_costs_no_other(tmp_path: Path) -> None:
    rows = [["Ada Frusk", "ball", "n", f"{i}.mp4"] for i in range(500)]
    text = _written([HEAD], False) + '"Ada \\"Ace\\" Frusk","whiff","open\n' + _written(rows, False)
    reading = _read(tmp_path, text)
    assert reading.report.rows_kept == 500
    assert reading.set_aside["line"].tolist() == [2]


def test_rows_of_either_kind_are_never_taken_for_the_other() -> None:
    """Cells of any mixture of the signs that matter come out as they were, or are set aside."""
    rng = np.random.default_rng(11)
    quotes = {width: Quotes(b",", width) for width in (2, 3, 4)}
    signs = ['"', "\\", ",", "a", " b", "\n"]
    wrong, aside, many = [], 0, 2000
    for _ in range(many):
        width = int(rng.integers(2, 5))
        cells = ["".join(rng.choice(signs, int(rng.integers(0, 6)))) for _ in range(width)]
        slashed = bool(rng.integers(2))
        text = _written([cells], slashed, quoting=csv.QUOTE_ALL)[:-1].encode()
        settled = quotes[width].settle(text, still_open(text, b",", False))
        read = text if settled.verdict == "plain" else settled.row
        if settled.verdict in ("plain", "mended"):
            meant = [cell.replace("\\", "\\\\") for cell in cells] if slashed else cells
            got = next(csv.reader(io.StringIO(read.decode(), newline="")))
            if got not in (cells, meant):
                wrong.append((cells, slashed, text, got))
        else:
            aside += 1
    assert not wrong, (len(wrong), wrong[:3])
    assert aside < many / 100


def test_a_file_of_nothing_but_such_rows_is_refused_with_a_line(tmp_path: Path) -> None:
    with pytest.raises(
        ReadingError, match=r"Line 2 is a row with quotation marks that can be read in no way"
    ):
        _read(tmp_path, "hitter,outcome\n" + '"Ada \\"Ace" Frusk",whiff\n' * 3, keep=False)


def test_lines_that_are_taken_as_they_stand_are_those_that_stand_every_look() -> None:
    rng = np.random.default_rng(5)
    signs = np.array(list('aa,,""\n'))
    quotes = Quotes(b",", 3)
    seen = {True: 0, False: 0}
    for number in range(4_000):
        data = "".join(rng.choice(signs, int(rng.integers(1, 14)))).encode() + b"\n" * (number % 3 > 0)
        if b'"' not in data:
            continue
        inside, plain, lines = False, True, data.removesuffix(b"\n").split(b"\n")
        for line in lines:
            # A mark opens at the start of a cell, and closes before its end; one within is written twice.
            inside, before = False, b","
            for at, sign in enumerate(line):
                if sign == 34:
                    beside = line[at + 1 : at + 2] or b"\n" if inside else before
                    plain &= beside in (b",", b"\n", b'"')
                    inside = not inside
                before = bytes([sign])
            plain &= not inside
        found = structure(data, quotes, b",", lambda line: False, True, 1 << 20)
        assert found.plain == plain, data
        assert not plain or (found.lines == len(lines) and not found.spans and not found.strays)
        seen[plain] += 1
    assert min(seen.values()) > 200


def test_a_long_file_of_plain_lines_is_told_from_one_with_a_single_stray_mark() -> None:
    line = b'"Ada Frusk","ball",1.5,"a ""b"" c"\n'
    data = line * 60_000  # more than is looked through at once
    quotes = Quotes(b",", 4)
    found = structure(data, quotes, b",", lambda line: True, True, 1 << 20)
    assert found.plain
    assert found.lines == 60_000
    for at in (0, 17_000, 59_999):
        torn = line * at + line.replace(b',"ball"', b',"ball') + line * (59_999 - at)
        found = structure(torn, quotes, b",", lambda line: True, True, 1 << 20)
        assert not found.plain
        assert found.unclear == [at]
    assert structure(data[:-1], quotes, b",", lambda line: True, True, 1 << 20).lines == 60_000


def test_a_line_is_judged_by_the_same_lines_whenever_it_is_asked() -> None:
    blocks = [b"".join(b"Ada %d,ball,%d\n" % (block, line) for line in range(1_500)) for block in range(3)]
    asked_late, asked_at_once = (RowLikeness(",", 3, ["whiff"]) for _ in range(2))
    for block in blocks:
        asked_late.learn(block)
        asked_at_once.learn(block)
        asked_at_once(b"what,ever,1")
    for line in (b"Ada 0,ball,7", b"Ada 1,ball,x", b"Ada 2,ball,x", b"x,y,z", b"x,whiff,5", b"Ada 1,ball"):
        assert asked_late(line) == asked_at_once(line), line
    assert asked_late(b"Ada 1,ball,7")
    assert not asked_late(b"x,y,z")
