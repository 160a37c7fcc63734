"""The paper and the workbook that pitches are charted on: what they offer is what is read back."""

from __future__ import annotations

import datetime as dt
import io
import itertools
import json
import re
import warnings
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import hitlab
from hitlab.charting import charting_sheet, charting_workbook, sheet_paper
from hitlab.charting.sheet_people import Club, Game, Player, club_of
from hitlab.charting.sheet_words import COLUMNS_WRITTEN, GROUPS, GUIDE, NUMBERS, RULES, words_of
from hitlab.charting.sheet_workbook import MOST_PLAYERS, ROWS_READY
from hitlab.cli.commands import run
from hitlab.demonstration import demo_season
from hitlab.errors import ClaimError, HitlabWarning, ReadingError
from hitlab.league import charted_by
from hitlab.pitches.dates import EARLIEST
from hitlab.pitches.schema import COLUMNS, FAMILIES, LAST_YEAR, OUTCOMES, PITCH_KINDS, RESULTS
from hitlab.pitches.sources import checked_to_pandas
from tests.hostile_names import HOSTILE, REAL
from tests.needs import package

openpyxl: Any = package("openpyxl")
pypdf: Any = package("pypdf")
package("xlsxwriter")
package("python_calamine")
matplotlib: Any = package("matplotlib")

PLAYERS = pd.DataFrame(
    {"number": ["7", "12", "00"], "name": ["Bea Plome", "Ada Frusk", "Cy Wend"], "side": ["R", "L", "S"]}
)


def roster(names: list[str]) -> pd.DataFrame:
    return pd.DataFrame({"number": [str(one) for one in range(1, len(names) + 1)], "name": names})


@cache
def game() -> pd.DataFrame:
    """A game of the demo season as an eye that never errs charts it, in the columns of the workbook."""
    table = checked_to_pandas(demo_season())[0]
    one = table[table["game"].astype(str) == str(table["game"].iloc[0])].reset_index(drop=True)
    chart = charted_by(one, 0, misses=0, doubles=0, wrong_outcome=0, eye_width_mph=0)
    return chart[[name for name in COLUMNS_WRITTEN if name in chart]].reset_index(drop=True)


def clubs() -> tuple[tuple[str, list[str]], tuple[str, list[str]]]:
    """Both clubs, each with its hitters and pitchers."""
    chart = game().astype({"club": str, "hitter": str, "pitcher": str})
    one, other = sorted(chart["club"].unique())
    people = {
        name: sorted(
            {*chart.loc[chart["club"] == name, "hitter"], *chart.loc[chart["club"] != name, "pitcher"]}
        )
        for name in (one, other)
    }
    return (one, people[one]), (other, people[other])


@cache
def blank() -> bytes:
    """The workbook of that game, with nothing in it."""
    import tempfile

    (one, own), (other, theirs) = clubs()
    with tempfile.TemporaryDirectory() as folder:
        path = charting_workbook(
            Path(folder) / "game.xlsx",
            roster=roster(own),
            opponents=roster(theirs),
            club=one,
            opponent=other,
            date="2031-05-04",
        )
        return path.read_bytes()


def opened(data: bytes | Path) -> Any:
    return openpyxl.load_workbook(io.BytesIO(data) if isinstance(data, bytes) else data)


def offered(book: Any) -> dict[str, tuple[Any, ...]]:
    """What the drop-down lists of the file itself show, by column."""
    sheet = book["pitches"]
    found: dict[str, tuple[Any, ...]] = {}
    for rule in sheet.data_validations.dataValidation:
        head = sheet.cell(1, next(iter(rule.sqref.ranges)).min_col).value
        if rule.type != "list":
            continue
        if rule.formula1.startswith('"'):
            found[head] = tuple(rule.formula1.strip('"').split(","))
        else:
            name, _, area = rule.formula1.partition("!")
            found[head] = tuple(cell.value for row in book[name][area.replace("$", "")] for cell in row)
    return found


def plain(value: Any, column: str) -> Any:
    """A value of a table as somebody types it."""
    if pd.isna(value):
        return None
    if COLUMNS[column].kind == "flag":
        return "yes" if value else "no"
    if COLUMNS[column].kind == "date":
        return pd.Timestamp(value).date()
    return int(value) if COLUMNS[column].kind == "whole" else str(value)


def filled(book: Any, rows: list[dict[str, Any]], path: Path) -> Path:
    sheet = book["pitches"]
    heads = {cell.value: cell.column for cell in sheet[1]}
    for at, row in enumerate(rows, 2):
        for name, value in row.items():
            if value is not None:
                sheet.cell(at, heads[name]).value = value
    book.save(path)
    return path


def test_a_game_typed_in_with_the_offered_words_is_read_back_row_by_row_and_counted_the_same(tmp_path):
    chart = game()
    rows = [{name: plain(row[name], name) for name in chart} for row in chart.to_dict("records")]
    book = opened(blank())
    words = offered(book)
    for row in rows:
        for name, value in row.items():
            # Of the game the list only proposes a text.
            assert name == "game" or name not in words or value is None or value in words[name]
    reading = hitlab.read_pitches(filled(book, rows, tmp_path / "chart.xlsx"))
    assert reading.report.alerts == ()
    assert reading.report.questions == ()
    assert len(reading.set_aside) == 0
    assert len(reading.table) == len(chart) > 200
    for name in chart:
        mine = [plain(value, name) for value in reading.table[name]]
        assert mine == [row[name] for row in rows], name
    ours, theirs = (
        hitlab.tally(table, by="hitter")
        .table()
        .astype({"hitter": str})
        .sort_values("hitter", ignore_index=True)
        for table in (reading.table, chart)
    )
    assert ours["hitter"].tolist() == theirs["hitter"].tolist()
    counted = [name for name in theirs if pd.api.types.is_numeric_dtype(theirs[name])]
    assert {"swings", "whiffs", "hard", "plate_appearances"} <= set(counted)
    assert theirs["hard"].sum() > 5
    pd.testing.assert_frame_equal(ours[counted], theirs[counted], check_dtype=False)


WORDED = [name for name in COLUMNS_WRITTEN if words_of(name)]
TYPED = st.fixed_dictionaries(
    {
        **{name: st.sampled_from((None, *words_of(name))) for name in WORDED if name != "outcome"},
        "outcome": st.sampled_from(words_of("outcome")),
        **{name: st.none() | st.integers(*NUMBERS[name]) for name in ("inning", "outs", "balls", "strikes")},
        "date": st.none() | st.dates(dt.date(EARLIEST, 1, 1), dt.date(LAST_YEAR, 12, 31)),
        "hitter": st.sampled_from([*PLAYERS["name"], "Dot Ulm"]),
    }
)


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(TYPED, min_size=1, max_size=12))
def test_any_offered_word_in_any_row_is_read_as_what_it_says(tmp_path, rows):
    reading = hitlab.read_pitches(filled(opened(blank()), rows, tmp_path / "chart.xlsx"))
    assert len(reading.set_aside) == 0
    for name in rows[0]:
        mine = [plain(value, name) for value in reading.table[name]]
        assert mine == [row[name] for row in rows], name


def test_every_word_of_the_schema_is_offered_by_the_file_itself():
    words = offered(opened(blank()))
    assert words["outcome"] == OUTCOMES
    assert words["pitch_kind"] == PITCH_KINDS
    assert words["result"] == RESULTS
    assert words["hard"] == words["bunt"] == words["check_swing"] == ("yes", "no")
    (one, own), (other, theirs) = clubs()
    assert words["club"] == (one, other)
    assert words["hitter"] == words["pitcher"] == (*own, *theirs)


def test_numbers_and_dates_are_bounded_by_what_the_table_takes():
    sheet = opened(blank())["pitches"]
    rules = {
        sheet.cell(1, next(iter(rule.sqref.ranges)).min_col).value: rule
        for rule in sheet.data_validations.dataValidation
    }
    bounds = {"balls": (0, 3), "strikes": (0, 2), "outs": (0, 2), "inning": (1, 30)}
    for name, (low, high) in bounds.items():
        assert (rules[name].type, rules[name].operator or "between") == ("whole", "between")
        assert (int(rules[name].formula1), int(rules[name].formula2)) == (low, high)
    for name, (low, high) in NUMBERS.items():
        assert COLUMNS[name].lowest <= low <= high <= COLUMNS[name].highest
    assert rules["date"].type == "date"
    day_0 = dt.date(1899, 12, 30)  # of a spreadsheet's days
    bounds_of_days = [
        day_0 + dt.timedelta(int(day)) for day in (rules["date"].formula1, rules["date"].formula2)
    ]
    assert bounds_of_days == [dt.date(EARLIEST, 1, 1), dt.date(LAST_YEAR, 12, 31)]
    for rule in rules.values():
        area = next(iter(rule.sqref.ranges))
        assert (area.min_row, area.max_row) == (2, ROWS_READY + 1)
        assert len(rule.error or "") <= 255
    # A name that no roster has is asked about, a word that the reader does not know is refused.
    assert rules["hitter"].errorStyle == "warning"
    assert rules["outcome"].errorStyle in (None, "stop")


def test_the_sheet_of_pitches_says_what_is_written_and_has_no_formula_and_no_merged_cell():
    book = opened(blank())
    sheet = book["pitches"]
    assert book.sheetnames[0] == "pitches"
    assert [cell.value for cell in sheet[1]] == list(COLUMNS_WRITTEN)
    assert sheet.freeze_panes == "A2"
    assert sheet.max_row == 1
    for cell in sheet[1]:
        assert cell.font.bold
        assert COLUMNS_WRITTEN[cell.value] in cell.comment.text
        width = sheet.column_dimensions[cell.column_letter].width
        assert width >= max(map(len, (cell.value, *words_of(cell.value)))) + 1, cell.value
    for one in book:
        assert not one.merged_cells.ranges
        assert all(cell.data_type != "f" for row in one.iter_rows() for cell in row)


@pytest.mark.parametrize("players", [0, 1, 25, 26, 80])
def test_the_other_sheets_are_passed_over_whatever_the_roster(players, tmp_path):
    names = [f"Hitter {at}" for at in range(players)]
    path = charting_workbook(
        tmp_path / "empty.xlsx",
        roster=roster(names[: players // 2]) if players > 1 else None,
        opponents=roster(names[players // 2 :]) if players else None,
    )
    with pytest.raises(ReadingError) as told:
        hitlab.read_pitches(path)
    said = "No pitch stands in empty.xlsx: empty.xlsx, pitches has the names of its columns and no row below"
    assert str(told.value).startswith(said)
    assert "mapping" not in str(told.value)
    assert "key" not in str(told.value)
    rows = [{"hitter": "Hitter 0", "outcome": "whiff"}, {"hitter": "Somebody Else", "outcome": "ball"}]
    reading = hitlab.read_pitches(filled(opened(path), rows, tmp_path / "filled.xlsx"))
    assert reading.table["hitter"].tolist() == ["Hitter 0", "Somebody Else"]
    assert reading.report.rows_read == 2
    assert reading.report.alerts == ()


def test_of_a_sheet_with_rows_above_its_last_names_it_is_not_said_that_it_has_none(tmp_path):
    """Of the key and of the roster "there is no row below the names" was said, with the players in sight."""
    book = opened(charting_workbook(tmp_path / "game.xlsx", roster=roster(["Ada Frusk", "Bea Plome"])))
    del book["pitches"]
    book.save(tmp_path / "cut.xlsx")
    with pytest.raises(ReadingError) as told:
        hitlab.read_pitches(tmp_path / "cut.xlsx")
    said = str(told.value)
    for sheet in ("key", "roster"):
        assert f"cut.xlsx, {sheet}: nothing stands below its last row, which has names of columns" in said
    assert "cut.xlsx, names: there is no row below the names of its columns" in said


def test_each_line_of_the_key_has_room_for_all_of_its_text():
    """A program that does not make rows higher by itself would print one line over the next."""
    key = opened(blank())["key"]
    narrow, wide = (key.column_dimensions[letter].width for letter in "AB")  # C is as wide as B
    width = {"A": narrow, "B": wide, "C": wide}
    long = 0
    for row in key.iter_rows(min_row=2):
        lines = max(-(-len(str(cell.value or "")) // width[cell.column_letter]) for cell in row)
        assert (key.row_dimensions[row[0].row].height or 15) >= 15 * lines
        long += lines > 1
    assert long > 3


def test_a_pitch_nobody_could_see_is_not_a_soft_one(tmp_path):
    rows = [{"hitter": "Bea Plome", "outcome": "in play", "hard": hard} for hard in ("yes", "no", None, "no")]
    table = hitlab.read_pitches(filled(opened(blank()), rows, tmp_path / "chart.xlsx")).table
    assert table["hard"].isna().tolist() == [False, False, True, False]
    assert table["hard"].sum() == 1


@pytest.mark.filterwarnings("ignore::hitlab.errors.HitlabWarning")  # no font here has some of the signs
def test_hostile_names_stay_text_and_cut_no_page(tmp_path):
    names = [*HOSTILE, *REAL, "=1+1", "+Ada", "@Ada", "-Ada", "a,b", 'Ada "Ace" Frusk', "x" * 200, "outcome"]
    kept = load = pd.DataFrame({"name": [name for name in names if name.strip()]})
    path = charting_workbook(tmp_path / "a.xlsx", roster=load, club='"=1+1",x', opponent="=2+2")
    book = opened(path)
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type in ("s", "n"), (sheet.title, cell.coordinate)
                assert not str(cell.value or "").startswith(("=", "+", "@", "-")), cell.value
                assert "\x1b" not in str(cell.value or "")
    words = offered(book)
    assert words["club"] == ('"=1+1",x', "'=2+2")
    assert len(words["hitter"]) == len({name.casefold() for name in words["hitter"]}) > 40
    rows = [{"hitter": name, "outcome": "whiff"} for name in ("'=1+1", "a,b", 'Ada "Ace" Frusk', "x" * 200)]
    reading = hitlab.read_pitches(filled(book, rows, tmp_path / "b.xlsx"))
    assert reading.table["hitter"].tolist() == [row["hitter"] for row in rows]
    assert reading.report.alerts == ()
    own = club_of(kept, "x" * 200, "club")
    _looked_at(next(_pages(own, paper="a4")))


def test_what_cannot_be_is_refused_in_plain_words(tmp_path):
    two = pd.DataFrame({"number": [7, 7], "name": ["Bea Plome", "Ada Frusk"]})
    both: list[Any] = [(charting_workbook, "a.xlsx"), (charting_sheet, "a.pdf")]
    for make, name in both:
        with pytest.raises(ReadingError, match="two of number 7: Bea Plome"):
            make(tmp_path / name, roster=two)
        with pytest.raises(ClaimError, match="2031-13-01"):
            make(tmp_path / name, date="2031-13-01")
        with pytest.raises(ClaimError, match="give a day from 1950"):
            make(tmp_path / name, date="0031-05-04")
        with pytest.raises(ClaimError, match="end the name with"):
            make(tmp_path / "a.doc")
        league = PLAYERS.assign(club=["Lanterns", "Anchors", "Anchors"])
        with pytest.raises(ClaimError, match=r"'Nobodies': nobody in the roster .* 'Lanterns' and 'Anchors'"):
            make(tmp_path / name, roster=league, club="Nobodies")
        csv = tmp_path / Path(name).with_suffix(".csv")
        PLAYERS.to_csv(csv, index=False)
        csv.rename(tmp_path / name)
        with pytest.raises(ReadingError, match="it is the file that is read"):
            make(tmp_path / name, roster=tmp_path / name)
        assert (tmp_path / name).read_text().startswith("number,name")
        (tmp_path / name).unlink()
    crowd = roster([f"Hitter {at}" for at in range(MOST_PLAYERS + 1)])
    with pytest.raises(ClaimError, match="501 players"):
        charting_workbook(tmp_path / "a.xlsx", roster=crowd.drop(columns="number"))
    with pytest.raises(ClaimError, match="501 players leave no room"):
        charting_sheet(tmp_path / "a.pdf", roster=crowd.drop(columns="number"))
    for rows in (0, 3, 25, 48, -4):
        with pytest.raises(ClaimError, match=rf"rows={rows}: give a multiple of 4, .* up to 28"):
            charting_sheet(tmp_path / "a.pdf", rows=rows)
    for wrong in ({"paper": "a5"}, {"half": "left"}, {"innings": 0}, {"innings": 31}):
        with pytest.raises(ClaimError, match=next(iter(wrong))):
            charting_sheet(tmp_path / "a.pdf", **wrong)  # type: ignore[arg-type]
    assert not list(tmp_path.iterdir())


def test_of_a_roster_of_several_clubs_the_players_of_the_named_one_are_taken():
    league = pd.DataFrame(
        {
            "number": [2, 1, 1],
            "name": ["Ada Frusk", "Bea Plome", "Cy Wend"],
            "club": ["Lanterns", "lanterns", "Anchors"],
        }
    )
    assert [one.name for one in club_of(league, "LANTERNS", "club").players] == ["Bea Plome", "Ada Frusk"]
    assert len(club_of(league, "", "club").players) == 3
    assert club_of(league[:1], "", "club").name == "Lanterns"
    assert club_of(None, "Lanterns", "club") == Club("Lanterns", ())
    # A roster of one club is this club's, however the club is spelled there.
    assert len(club_of(league[:1], "Lanterns of the Harbour", "club").players) == 1


# The paper.


def _pages(own: Club, other: Club | None = None, **said: Any) -> Iterator[Any]:
    asked: dict[str, Any] = {"innings": 1, "half": "bottom", "away": False, "paper": "letter", "rows": None}
    day = said.pop("day", dt.date(2031, 9, 30))
    yield from sheet_paper.pages(Game(own, other or Club("", ()), day), **(asked | said))


def _boxes(figure: Any) -> np.ndarray:
    """Left, top, width and height of each box, in mm; none on the page of rules."""
    drawn = [one for one in figure.axes[0].patches if one.get_gid() == "boxes"]
    corners = np.array([polygon[:4] for one in drawn for polygon in one.get_path().to_polygons()])
    if not len(corners):
        return corners
    return np.hstack([corners.min(axis=1), np.ptp(corners, axis=1)])


def _looked_at(figure: Any) -> None:
    """Hold a page to what its reader needs, by the extents that a renderer gives."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    figure.set_dpi(200)
    renderer = FigureCanvasAgg(figure).get_renderer()
    dots = figure.dpi / 25.4
    wide, high = figure.get_size_inches() * 25.4
    found = []
    for text in figure.axes[0].texts:
        assert text.get_size() >= 10
        extent = text.get_window_extent(renderer)
        box = extent.x0 / dots, high - extent.y1 / dots, extent.x1 / dots, high - extent.y0 / dots
        assert box[0] >= 6, text.get_text()
        assert box[1] >= 6, text.get_text()
        assert box[2] <= wide - 6, text.get_text()
        assert box[3] <= high - 6, text.get_text()
        found.append((text.get_text(), np.array(box)))
    slack = 0.1  # mm, of rounding to dots
    for (one, a), (other, b) in itertools.combinations(found, 2):
        apart = (a[2:] - slack <= b[:2]) | (b[2:] - slack <= a[:2])
        assert apart.any(), (one, other)
    boxes = _boxes(figure)
    if not len(boxes):
        return
    assert (boxes[:, 2:] >= sheet_paper.LEAST_BOX_MM).all()
    assert (boxes[:, :2] >= 6).all()
    assert (boxes[:, :2] + boxes[:, 2:] <= [wide - 6, high - 6]).all()
    for text, a in found:
        apart = (a[2:] - slack <= boxes[:, :2]) | (boxes[:, :2] + boxes[:, 2:] - slack <= a[:2])
        assert apart.any(axis=1).all(), text


LONG = ["Ásgerður Þorláksdóttir-Vandermeulen", "Nguyễn Thị Ánh", "שרה לוי", "W" * 200]
CLUBS = {
    "nobody": Club("", ()),
    "three": Club("Lanterns", tuple(Player(str(at), f"Ada Frusk {at}", "", "") for at in range(3))),
    "forty long names": Club(
        "W" * 200, tuple(Player(str(at % 1000), LONG[at % 4], "", "") for at in range(960, 1000))
    ),
}


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("club", CLUBS)
def test_a_page_holds_all_apart_large_enough_and_within(club, paper):
    drawn = list(_pages(CLUBS[club], CLUBS["forty long names"], paper=paper))
    assert len(drawn) == 2
    for figure in drawn:
        _looked_at(figure)
    texts = [text.get_text() for text in drawn[0].axes[0].texts]
    assert {RULES[0], RULES[1], RULES[2], "Inning 1, bottom", "charted by"} <= set(texts)
    assert sum(text == "name" for text in texts) * 4 >= 20
    if club == "three":
        assert {"Ada Frusk 0", "Ada Frusk 1", "Ada Frusk 2", "September 30, 2031"} <= set(texts)
    said = " ".join(text.get_text() for text in drawn[1].axes[0].texts)
    assert all(rule in said for rule in GUIDE)
    # Half a page: the axis goes down.
    assert max(text.get_position()[1] for text in drawn[1].axes[0].texts) < sheet_paper.PAPERS[paper][1] / 2


def test_rows_are_as_many_as_were_asked_for():
    for rows in (4, 8, 24):
        figure = next(_pages(CLUBS["three"], rows=rows))
        _looked_at(figure)
        each = sum(len(group.boxes) for group in GROUPS)
        assert len(_boxes(figure)) == rows * each + 2 * rows // 4


def test_a_box_on_paper_is_typed_into_the_workbook_as_it_is_called_there():
    boxes = [box for group in GROUPS for box in group.boxes]
    for box in boxes:
        assert box.column in COLUMNS_WRITTEN
        assert box.word in ("", *words_of(box.column))
    assert {box.word for box in boxes if box.column == "outcome"} == set(OUTCOMES[:7])
    assert {box.word for box in boxes if box.column == "pitch_kind"} == {*FAMILIES, "other"}
    # Of hard balls a third box says that nobody saw it, and is typed as a blank.
    assert [(box.label, box.word) for box in boxes if box.column == "hard"] == [
        ("hard", "yes"),
        ("not hard", "no"),
        ("could not see", ""),
    ]
    assert set(COLUMNS_WRITTEN) <= set(COLUMNS)


def test_the_club_at_bat_is_the_visitor_in_the_top_half():
    own, other = CLUBS["three"], Club("Anchors", (Player("9", "Dot Ulm", "", ""),))
    for away, half, batting in (
        (False, "bottom", "Lanterns"),
        (False, "top", "Anchors"),
        (True, "top", "Lanterns"),
        (True, "bottom", "Anchors"),
    ):
        figure = next(_pages(own, other, half=half, away=away))
        texts = [text.get_text() for text in figure.axes[0].texts]
        assert texts[texts.index("at bat") + 1] == batting
        assert ("Dot Ulm" in texts) == (batting == "Anchors")


def test_the_file_has_a_page_a_half_inning_and_text_in_embedded_fonts(tmp_path):
    asked: dict[str, Any] = {
        "roster": PLAYERS,
        "club": "Lanterns",
        "innings": 1,
        "half": "both",
        "away": True,
    }
    path = charting_sheet(tmp_path / "a.pdf", **asked)
    book = pypdf.PdfReader(path)
    assert len(book.pages) == 3
    for page, half in zip(book.pages, ("top", "bottom", ""), strict=True):
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx((612, 792), abs=0.1)
        if half:
            said = page.extract_text()
            for part in (f"Inning 1, {half}", "could not see", "Lanterns", *RULES):
                assert part in said
            assert ("Ada Frusk" in said) == (half == "top")
        for font in page["/Resources"]["/Font"].values():
            font = font.get_object()
            inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
            assert "/FontFile2" in inner["/FontDescriptor"].get_object()
        assert "/Subtype" not in str(page["/Resources"].get("/XObject", ""))  # no picture: lines and letters
    assert "chart alone" in book.pages[2].extract_text()


def test_a_sign_that_no_font_has_is_warned_of():
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        figure = next(_pages(Club("", (Player("1", "Ada \U000130b8", "", ""),))))
    assert {one.category for one in caught} <= {HitlabWarning}
    (drawn,) = (text.get_text() for text in figure.axes[0].texts if text.get_text().startswith("Ada"))
    assert (drawn == "Ada ?") == bool(caught)


@pytest.mark.slow
def test_a_whole_game_is_eighteen_pages_and_the_guide_and_the_same_every_time(tmp_path):
    path = charting_sheet(tmp_path / "a.pdf")
    assert len(pypdf.PdfReader(path).pages) == 19
    # Nothing on it comes from the clock, nor from the caller's settings, which stay.
    with matplotlib.rc_context({"font.size": 30, "savefig.bbox": "tight", "axes.facecolor": "red"}):
        again = charting_sheet(tmp_path / "b.pdf")
        assert matplotlib.rcParams["font.size"] == 30
    assert again.read_bytes() == path.read_bytes()


# The command.


def test_the_command_makes_both_and_says_how_the_workbook_is_read(tmp_path, capsys):
    csv, paper, book = tmp_path / "roster.csv", tmp_path / "game.pdf", tmp_path / "game.xlsx"
    PLAYERS.to_csv(csv, index=False)
    asked = ["chart", "--to", str(book), "--to", str(paper), "--roster", str(csv), "--club", "Lanterns"]
    assert run([*asked, "--date", "2031-05-04", "--innings", "1", "--half", "bottom", "--paper", "A4"]) == 0
    said = capsys.readouterr()
    # Nothing but which letters no font of this machine has, in one line.
    assert re.fullmatch(r"(In pictures \? stands for .+\n)?", said.err)
    assert "paper saved as" in said.out
    assert f"hitlab read {book} --roster {csv}" in said.out
    assert len(pypdf.PdfReader(paper).pages) == 2
    rows = [{"hitter": "Ada Frusk", "outcome": one} for one in ("whiff", "foul tip")]
    filled(opened(book), rows, book)
    assert run(["read", str(book)]) == 0
    assert "2 rows read, 2 kept, 0 set aside" in capsys.readouterr().out
    assert run(["read", str(book), "--roster", str(csv)]) == 0
    capsys.readouterr()
    assert run(asked) == 2  # what was charted in it would be gone
    assert "may hold what somebody charted" in capsys.readouterr().err
    book.unlink()
    assert run(["chart", "--to", str(book), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {"saved": [str(book)]}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--to", "a.csv"], "end the name with .pdf"),
        (["--to", "a.xlsx", "--innings", "3"], "--innings says how the paper is"),
        (["--to", "a.xlsx", "--to", "a.xlsx"], "names one file twice"),
        (["--to", "a.xlsx", "--to", "b/../a.xlsx"], "are one file"),
        (["--to", "roster.xlsx", "--roster", "roster.xlsx"], "it is the file that is read"),
        (["--to", "a.pdf", "--rows", "400"], "--rows 400: give a multiple of 4"),
        (["--to", "a.pdf", "--roster", "nothing.csv"], "The roster cannot be read"),
        (["--to", "a.pdf", "--to", "a.xlsx", "--date", "May"], "is not a day"),
        ([], "--to"),
    ],
)
def test_the_command_refuses_before_it_writes(words, said, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "b").mkdir()
    (tmp_path / "roster.xlsx").write_bytes(blank())
    before = {path: path.read_bytes() for path in tmp_path.iterdir() if path.is_file()}
    assert run(["chart", *words]) == 2
    assert said in " ".join(capsys.readouterr().err.split())
    assert {path: path.read_bytes() for path in tmp_path.iterdir() if path.is_file()} == before
