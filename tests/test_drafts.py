"""From a chart to a checked table: fill-down, tellings, dates, games, slips, drafts."""

from __future__ import annotations

import inspect
import io
import re
import shlex
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

from hitlab.cli.commands import read_files, run
from hitlab.errors import ReadingError
from hitlab.pitches.drafting import draft_mapping
from hitlab.pitches.mapping import load_mapping
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.report import HALF_EMPTY, SOME_SET_ASIDE
from hitlab.pitches.telling import TELLABLE, tell
from tests.clipboards import chart, once, season, workbook
from tests.needs import package

package("xlsxwriter")
package("python_calamine")


def _sheet(**columns: Any) -> pd.DataFrame:
    many = max(len(column) for column in columns.values() if isinstance(column, list))
    return pd.DataFrame(
        {name: told if isinstance(told, list) else [told] * many for name, told in columns.items()}
    )


# fill-down


def test_fill_down_is_proposed_and_done_only_where_the_mapping_says_so(tmp_path: Path) -> None:
    sheet = _sheet(hitter=["Ada", "", "", "Bea", "", ""], inning=["1", "", "", "", "", ""], outcome="ball")
    reading = read_pitches(sheet, most_set_aside=1)
    assert reading.table["hitter"].tolist() == ["Ada", "Bea"]
    assert 'fill_down = ["hitter", "inning"]' in " ".join(reading.report.proposals)
    assert any(one.startswith("hitter is blank in 4 of 6 rows") for one in reading.report.alerts)
    filled = read_pitches(sheet, {"fill_down": ["hitter", "inning"]})
    assert filled.table["hitter"].tolist() == ["Ada"] * 3 + ["Bea"] * 3
    assert filled.table["inning"].tolist() == [1] * 6
    assert not filled.report.alerts


@pytest.mark.parametrize("order", [["date", "game", "hitter"], ["hitter", "game", "date"]])
def test_what_makes_a_game_is_filled_down_as_the_game(order: list[str]) -> None:
    sheet = _sheet(
        date=["2026-04-03", "", "", "2026-04-04", "", "2026-04-05"],
        vs=["Larks", "", "Herons", "Larks", "", ""],
        hitter=["Ada", "", "Bea", "Ada", "", "Bea"],
        outcome="ball",
    )
    games = {"games": {"from": ["date", "vs"]}}
    blank = read_pitches(sheet, {**games, "fill_down": ["date", "hitter"]})
    assert any(
        'Where it is written once for the rows below: fill_down = ["game"]' in one
        for one in blank.report.alerts
    )
    filled = read_pitches(sheet, {**games, "fill_down": order})
    told = filled.table["game"]
    assert told[0] == told[1]
    assert told[3] == told[4]
    assert told[:5].nunique() == 3
    # Nobody wrote whom they met on the last day: it is not taken from another day.
    assert told.isna().tolist() == [False] * 5 + [True]


@pytest.mark.parametrize("border", ["game", "date"])
def test_nothing_is_filled_beyond_a_game(border: str) -> None:
    told = {"game": ["g1", "", "g2", ""], "date": ["2026-04-03", "", "2026-04-04", ""]}[border]
    sheet = _sheet(**{border: told}, hitter=["Ada", "", "", "Bea"], outcome="ball")
    reading = read_pitches(sheet, {"fill_down": [border, "hitter"]})
    assert reading.table["hitter"].tolist() == ["Ada", "Ada", "Bea"]
    assert reading.set_aside["row"].tolist() == [3]
    assert reading.set_aside["reason"].tolist() == ["empty, and it is needed"]


def test_nothing_is_filled_beyond_a_sheet(tmp_path: Path) -> None:
    one = _sheet(hitter=["Ada", ""], outcome="ball")
    other = _sheet(hitter=["", "Bea"], outcome="ball")
    path = workbook(tmp_path / "two.xlsx", {"A": one, "B": other})
    reading = read_pitches(path, {"fill_down": ["hitter"]})
    assert reading.table["hitter"].tolist() == ["Ada", "Ada", "Bea"]
    assert reading.set_aside[["sheet", "row"]].to_numpy().tolist() == [["B", 2]]


def test_a_fill_down_without_use_is_said() -> None:
    sheet = _sheet(hitter=["Ada", "Bea"], outcome="ball")
    said = read_pitches(sheet, {"fill_down": ["hitter", "inning"]}).report.alerts
    assert said == (
        "fill_down names hitter, and no blank cell of it has one above to take.",
        "fill_down names inning, which no column here fills.",
    )


# words that tell several things


def test_each_word_is_written_once_and_tells_outcome_and_result() -> None:
    mapping = {
        "columns": {"what": "outcome"},
        "words": {"K swing": "whiff, strikeout", "1B": "single", "foul pull": "foul, pull", "bb": "walk"},
        "patterns": {"GB #-#": "out", "E#": "error", "bunt *": "sacrifice bunt, bunt"},
    }
    words = [
        "k  swing",
        "1B",
        "Foul pull",
        "BB",
        "gb 6-3",
        "E6",
        "bunt down third",
        "whiff",
        "home run",
        "GB 10-3",
    ]
    reading = read_pitches(_sheet(hitter="Ada", what=words), mapping)
    assert reading.table["outcome"].tolist() == [
        *("whiff", "in play", "foul", "ball", "in play", "in play", "in play", "whiff", "in play"),
    ]
    assert reading.table["result"].fillna("").tolist() == [
        *("strikeout", "single", "", "walk", "out", "error", "sacrifice bunt", "", "home run"),
    ]
    assert reading.table["foul_side"].fillna("").tolist()[2] == "pull"
    assert reading.table["bunt"].fillna(False).tolist() == [False] * 6 + [True] + [False] * 2
    assert reading.set_aside["value"].tolist() == ["GB 10-3"]  # said once, not once a column
    unknown = reading.report.unknown.iloc[0]
    assert (unknown["word"], unknown["rows"]) == ("GB 10-3", 1)


@pytest.mark.parametrize("word", TELLABLE)
def test_every_word_that_can_stand_tells_something_or_says_what_is_lacking(word: str) -> None:
    told = tell(word)
    if isinstance(told, str):
        assert word in (
            "strikeout",
            "pull",
            "straight back",
            "opposite",
            "bunt",
            "check swing",
            "hard",
            "not hard",
        )
    else:
        assert told["outcome"]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ({"words": {"K": "strikeout"}}, "does not say what the pitch was"),
        ({"words": {"K": "whiff, single"}}, "cannot stand together"),
        ({"words": {"K": "whiff, ball"}}, "two for outcome"),
        ({"words": {"K": "wiff"}}, "Nearest: 'whiff'"),
        ({"patterns": {"*": "out"}}, "nothing but stars"),
        ({"patterns": {"a*b*c*d*e*f": "out"}}, "more than 4 stars"),
        ({"words": {"K": "whiff", "k ": "ball"}}, "translated twice"),
        ({"games": {"of": ["date"]}}, "not a key here"),
        ({"fill_down": ["hiter"]}, "Nearest: 'hitter'"),
        ({"mend_slips": "yes"}, "true or false"),
    ],
)
def test_a_line_that_cannot_be_meant_is_refused(line: dict[str, Any], words: str) -> None:
    with pytest.raises(ReadingError, match=words.replace("(", r"\(")):
        read_pitches(_sheet(hitter=["Ada"], outcome="ball"), line)


def test_a_pattern_that_matches_nothing_comes_first_and_changes_the_exit_code(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "a.csv").write_text("hitter,outcome\nAda,ball\n")
    (tmp_path / "m.toml").write_text('[patterns]\n"ball" = "ball"\n"GB #" = "out"\n')
    assert run(["read", str(tmp_path / "a.csv"), "--mapping", str(tmp_path / "m.toml")]) == 3
    told = capsys.readouterr().out.splitlines()
    assert told[1] == "Look at this first:"
    assert any("'GB #' decides no cell" in line for line in told[2:4])


# games


def test_two_games_of_one_day_stay_two() -> None:
    sheet = _sheet(
        date=["2026-04-03"] * 6 + ["2026-04-04"],
        Opponent=["Owls"] * 6 + ["Larks"],
        inning=["1", "2", "3", "1", "1", "2", "1"],
        hitter="Ada",
        outcome="ball",
    )
    proposed = " ".join(read_pitches(sheet).report.proposals)
    assert 'under [games]: from = ["date", "Opponent", "inning"]' in proposed
    assert "falls back to the first 1 time(s) within a date, first at row 4" in proposed
    reading = read_pitches(sheet, {"games": {"from": ["date", "Opponent", "inning"]}})
    assert reading.table["game"].tolist() == [
        *["2026-04-03 Owls, game 1"] * 3,
        *["2026-04-03 Owls, game 2"] * 3,
        "2026-04-04 Larks",
    ]
    assert read_pitches(sheet, {"games": {"from": ["date"]}}).table["game"].nunique() == 2


def test_rows_out_of_the_order_of_play_are_not_cut_into_games() -> None:
    sheet = _sheet(date="2026-04-03", inning=["1", "2"] * 5, hitter="Ada", outcome="ball")
    with pytest.raises(ReadingError, match="falls back to the first 4 times"):
        read_pitches(sheet, {"games": {"from": ["date", "inning"]}})
    with pytest.raises(ReadingError, match="'Opp' is neither one of"):
        read_pitches(sheet, {"games": {"from": ["date", "Opp"]}})


def test_each_sheet_may_be_a_game(tmp_path: Path) -> None:
    one = _sheet(date=["2026-04-03"], hitter="Ada", outcome="ball")
    path = workbook(tmp_path / "two.xlsx", {"A": one, "B": one})
    assert 'name "sheet" as well' in " ".join(read_pitches(path).report.proposals)
    games = read_pitches(path, {"games": {"from": ["date", "sheet"]}}).table["game"].tolist()
    assert games == ["2026-04-03 two.xlsx, A", "2026-04-03 two.xlsx, B"]


# dates


def test_a_date_that_can_be_read_in_two_ways_is_asked() -> None:
    both = draft_mapping(_sheet(date=["4/3", "5/6"], hitter="Ada", outcome="ball"))
    assert "# '4/3' can be read in two ways" in both
    assert '# date_format = "%d/%m" or "%m/%d"' in both
    assert "\n# year = 2031" in both
    told = draft_mapping(_sheet(date=["4/3", "4/17"], hitter="Ada", outcome="ball"), year=2026)
    rules = tomllib.loads(told)
    assert rules["file"]["date_format"] == "%m/%d"
    assert rules["dates"]["year"] == 2026


def test_a_year_told_besides_is_used_and_checked() -> None:
    sheet = _sheet(date=["4/3"], hitter="Ada", outcome="ball")
    rules = {"file": {"date_format": "%m/%d"}}
    assert pd.Timestamp(read_pitches(sheet, rules, year=2031).table["date"][0]) == pd.Timestamp("2031-04-03")
    with pytest.raises(ReadingError, match="have no year"):
        read_pitches(sheet, rules)
    with pytest.raises(ReadingError, match="has no use"):
        read_pitches(sheet, {"file": {"date_format": "%m/%d/%Y"}}, year=2031)
    with pytest.raises(ReadingError, match="not a whole number"):
        read_pitches(sheet, rules, year=31)
    two = _sheet(date=["4/3/49"] * 2, hitter="Ada", outcome="ball")
    with pytest.raises(ReadingError, match="come out after"):
        read_pitches(two, {"file": {"date_format": "%m/%d/%y"}})


# slips


def test_slips_are_mended_where_one_reading_is_possible_and_each_is_listed() -> None:
    sheet = _sheet(
        hitter="Ada",
        outcome=["foull", "wiff", "balll", "foul tips", "bal", "fool", "ball", "ball"],
        count=["1-2", "1 - 2", "1–2", "O-2", "12", "1/2", "9-9", "2-1"],
    )
    rules = {"split": {"count": {"into": ["balls", "strikes"]}}}
    plain = read_pitches(sheet, rules, most_set_aside=1)
    assert len(plain.table) == 2
    assert not len(plain.report.mended)
    mended = read_pitches(sheet, {**rules, "mend_slips": True})
    assert mended.table["outcome"].tolist() == ["foul", "whiff", "ball", "foul tip", "ball", "ball"]
    waiting = mended.set_aside[mended.set_aside["column"] == "outcome"]["value"].tolist()
    assert waiting == ["bal", "fool"]  # too short, and too short for another letter
    assert mended.table["balls"].fillna(-1).astype(int).tolist() == [1, 1, 1, 0, -1, 2]
    listed = mended.report.mended
    assert listed[["row", "value", "read_as"]].to_numpy().tolist() == [
        [1, "foull", "foul"],
        [2, "wiff", "whiff"],
        [3, "balll", "ball"],
        [3, "1–2", "1-2"],
        [4, "foul tips", "foul tip"],
        [4, "O-2", "0-2"],
        [6, "1/2", "1-2"],
    ]


def test_a_word_between_two_waits() -> None:
    rules = {"words": {"line": "single", "lime": "out"}, "mend_slips": True}
    reading = read_pitches(_sheet(hitter="Ada", outcome=["ball", "live", "linee"]), rules, most_set_aside=1)
    assert reading.set_aside["value"].tolist() == ["live", "linee"]


def test_a_count_that_became_a_day_is_undone_where_the_order_shows(tmp_path: Path) -> None:
    rules = {"split": {"count": {"into": ["balls", "strikes"]}}, "mend_slips": True}
    days = ["2026-01-02", "2026-03-02", "0-1", "2026-02-02"]
    told = read_pitches(_sheet(hitter="Ada", outcome="ball", count=days), rules)
    assert told.table["balls"].tolist() == [1, 3, 0, 2]
    assert told.table["strikes"].tolist() == [2, 2, 1, 2]
    # 1-2 or 2-1: nothing shows in which order the program took it.
    untold = read_pitches(_sheet(hitter="Ada", outcome="ball", count=["2026-01-02", "2026-02-02"]), rules)
    assert untold.table["balls"].isna().tolist() == [True, False]


# drafts


def test_a_draft_has_every_word_and_is_a_mapping_as_it_stands(tmp_path: Path) -> None:
    words = [
        "b",
        "K",
        "KS",
        "zzz",
        "GB 6-3",
        "GB 4-3",
        "F8",
        *(f"odd {letter}" for letter in "abcdefghijklmnopqrstuvwxyz"),
    ]
    sheet = _sheet(Batter=["Ada"] * len(words), Result=words, Note="x")
    text = draft_mapping(sheet)
    rules = tomllib.loads(text)
    assert rules["columns"] == {"Batter": "hitter", "Result": "outcome"}
    assert rules["words"]["b"] == "ball"
    assert rules["words"]["KS"] == "whiff, strikeout"
    assert rules["words"]["K"] == "?"
    assert rules["patterns"]["gb #-#"] == "out"
    assert sum(word.startswith("odd") for word in rules["words"]) == 26  # no stop at 20
    reading = read_pitches(sheet, rules, most_set_aside=1)
    waiting = set(reading.report.unknown["word"])
    assert waiting == {"K", "zzz", *(word for word in words if word.startswith("odd"))}


def test_a_draft_is_written_once_and_over_no_input(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table, draft = tmp_path / "a.csv", tmp_path / "team.toml"
    table.write_text("Batter,Result\nAda,b\nAda,swing and miss\nBea,foul\n")
    assert run(["read", str(table), "--draft", str(draft)]) == 0
    assert "0 line(s) with a question mark" in capsys.readouterr().out
    assert run(["read", str(table), "--draft", str(draft)]) == 2
    assert "may hold what somebody completed" in capsys.readouterr().err
    assert run(["read", str(table), "--draft", str(table)]) == 2
    assert run(["read", str(table), "--draft", str(tmp_path / "x.csv")]) == 2
    capsys.readouterr()
    assert run(["read", str(table), "--mapping", str(draft), "--save", str(tmp_path / "t.parquet")]) == 0


# a season charted, and spoiled


SPOILS = (
    *(
        "names once",
        "innings once",
        "numbers",
        "no. numbers",
        "nicknames",
        "surnames",
        "other words",
        "capitals",
    ),
    *("blanks around", "dates as days", "merged names", "title above", "blank rows", "names again", "typos"),
    *("count with blanks", "count as days", "unknown words", "lost names", "other heading"),
)


def _spoiled(
    truth: pd.DataFrame, spoil: str, roster: pd.DataFrame, draw: np.random.Generator
) -> tuple[pd.DataFrame, np.ndarray]:
    """Chart pitches, spoil the chart in one way, and say which rows cannot be read after it."""
    table = chart(truth, other=spoil == "other words")
    number = dict(zip(roster["name"], roster["number"], strict=True))
    nick = dict(zip(roster["name"], roster["nickname"], strict=True))
    lost = np.zeros(len(table), dtype=bool)
    some = draw.random(len(table)) < 0.05
    if spoil in ("names once", "merged names"):
        table["Hitter"] = once(table["Hitter"], [truth["game"], truth["plate_appearance"]])
    elif spoil == "innings once":
        table["Inn"] = once(table["Inn"], [truth["game"]])
    elif spoil in ("numbers", "no. numbers"):
        form = "{}" if spoil == "numbers" else "No. {}"
        table["Hitter"] = [form.format(number[name]) for name in table["Hitter"]]
    elif spoil == "nicknames":
        table["Hitter"] = table["Hitter"].map(nick)
    elif spoil == "surnames":
        table["Hitter"] = [name.split()[-1] for name in table["Hitter"]]
    elif spoil == "capitals":
        table["Result"] = table["Result"].str.upper()
    elif spoil == "blanks around":
        table["Result"] = "  " + table["Result"].str.replace(" ", "  ") + " "
    elif spoil == "typos":
        table.loc[some, "Result"] = table.loc[some, "Result"].map(
            lambda word: word + "l" if word.startswith("foul") else word
        )
    elif spoil == "count with blanks":
        table["Count"] = table["Count"].str.replace("-", " - ")
    elif spoil == "count as days":
        parts = table["Count"].str.split("-", expand=True).astype(int)
        day = (parts > 0).all(axis=1)
        told = "2026-" + parts[0].astype(str).str.zfill(2) + "-" + parts[1].astype(str).str.zfill(2)
        table["Count"] = table["Count"].mask(day, told)
    elif spoil == "unknown words":
        table.loc[some, "Result"] = "dribbler"
        lost = some
    elif spoil == "lost names":
        table.loc[some, "Hitter"] = ""
        lost = some
    elif spoil == "other heading":
        table = table.rename(columns={"Hitter": "Batter"})
    return table, lost


@pytest.fixture(scope="module")
def played() -> tuple[pd.DataFrame, pd.DataFrame]:
    truth = season(700)
    names = sorted(truth["hitter"].unique())
    roster = pd.DataFrame({"name": names, "number": [str(n) for n in range(3, 3 + len(names))]})
    roster["nickname"] = [f"{name[:3]}{name.split()[-1][:3]}y" for name in names]
    assert roster["nickname"].is_unique
    return truth, roster


def _written(path: Path, table: pd.DataFrame, spoil: str, truth: pd.DataFrame) -> Path:
    import datetime as dt

    import xlsxwriter

    with xlsxwriter.Workbook(path) as book:
        sheet, day = book.add_worksheet("Chart"), book.add_format({"num_format": "m/d"})
        at = 0
        if spoil == "title above":
            sheet.write_string(0, 0, "Charted by hand")
            at = 3
        sheet.write_row(at, 0, list(table.columns))
        runs: list[list[int]] = []
        for place, row in enumerate(table.itertuples(index=False)):
            at += 1 + (spoil == "blank rows" and place % 40 == 7)
            if spoil == "names again" and place % 100 == 50:
                sheet.write_row(at, 0, list(table.columns))
                at += 1
            for column, cell in enumerate(row):
                if column == 0 and spoil == "dates as days":
                    month, number = map(int, cell.split("/"))
                    sheet.write_datetime(at, 0, dt.datetime(2031, month, number), day)
                elif cell != "":
                    sheet.write_string(at, column, cell)
            if spoil == "merged names":
                if row[3]:
                    runs.append([at, at])
                runs[-1][1] = at
        for (first, last), name in zip(runs, [name for name in table.iloc[:, 3] if name], strict=False):
            if last > first:
                sheet.merge_range(first, 3, last, 3, name)
    return path


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("spoil", SPOILS)
def test_of_a_spoiled_chart_every_row_is_right_or_waits(
    tmp_path: Path, played: tuple[pd.DataFrame, pd.DataFrame], spoil: str
) -> None:
    truth, roster = played
    table, lost = _spoiled(truth, spoil, roster, np.random.default_rng(7))
    path = _written(tmp_path / "chart.xlsx", table, spoil, truth)
    rules = tomllib.loads(draft_mapping(path, roster=roster, year=2031))
    if spoil != "dates as days":  # within two weeks of April nothing tells days from months: it is asked
        assert "date_format" not in rules.get("file", {})
        rules |= {"file": {"date_format": "%m/%d"}, "dates": {"year": 2031}}
    rules["games"] = {"from": ["date", "Opp", "inning"]}
    assert "mend_slips" not in rules  # proposed, like the others
    rules["mend_slips"] = True
    if spoil == "typos":
        # With their question marks they wait; whoever takes those out has them mended.
        waiting = read_pitches(path, rules, roster=roster)
        typos = int((table["Result"] != chart(truth)["Result"]).sum())
        assert waiting.report.rows_set_aside == typos > 0
        assert waiting.report.mended.empty
        rules["words"] = {word: told for word, told in rules["words"].items() if told != "?"}
    filled = {"names once": ["hitter"], "innings once": ["inning"]}.get(spoil)
    if filled:
        # Without it the rows wait, and none goes to another hitter.
        if "hitter" in filled:
            waiting = read_pitches(path, rules, roster=roster)
            assert waiting.report.rows_set_aside == int((table["Hitter"] == "").sum())
        rules["fill_down"] = filled
    reading = read_pitches(path, rules, roster=roster)
    assert reading.report.rows_read == len(truth)
    assert reading.report.rows_set_aside == int(lost.sum())
    assert len(reading.set_aside[reading.set_aside["action"] == "row set aside"]) == int(lost.sum())
    kept, right = reading.table, truth[~lost].reset_index(drop=True)
    for name in ("hitter", "outcome", "inning", "balls", "strikes"):
        assert kept[name].astype(str).tolist() == right[name].astype(str).tolist(), name
    assert kept["result"].fillna("").tolist() == right["result"].tolist()
    assert (pd.to_datetime(kept["date"]) == pd.to_datetime(right["date"])).all()
    pairs = pd.DataFrame({"read": kept["game"], "played": right["game"]}).drop_duplicates()
    assert len(pairs) == right["game"].nunique()
    if not lost.any():
        assert reading.report.contradictions.empty
    if spoil == "typos":
        assert len(reading.report.mended) == int((table["Result"] != chart(truth)["Result"]).sum()) > 0


def test_the_readme_leads_from_a_folder_of_charts_to_a_checked_table(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    readme = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
    lines = re.search(r"```console\n(.*?)```", readme, re.S)
    assert lines is not None
    draft, read, rates = (shlex.split(line)[1:] for line in lines[1].strip().splitlines())
    truth = season(2_552)
    halves = [
        part.reset_index(drop=True) for _, part in truth.groupby(truth["date"] > sorted(truth["date"])[1_300])
    ]
    names = sorted(truth["hitter"].unique())
    number = {name: str(at) for at, name in enumerate(names, 3)}
    first, second = chart(halves[0]), chart(halves[1], other=True)
    first["Hitter"] = once(first["Hitter"], [halves[0]["game"], halves[0]["plate_appearance"]])
    first["Inn"] = once(first["Inn"], [halves[0]["game"]])
    second["Hitter"] = [
        f"{('#', 'No. ', '')[at % 3]}{number[name]}" for at, name in enumerate(second["Hitter"])
    ]
    second = second.rename(columns={"Hitter": "Batter"})
    (tmp_path / "charts").mkdir()
    workbook(tmp_path / "charts" / "team.xlsx", {"May": first, "June": second}, "Charted in {}".format)
    pd.DataFrame({"number": number.values(), "name": names}).to_csv(tmp_path / "roster.csv", index=False)
    monkeypatch.chdir(tmp_path)
    assert run(draft) == 0
    text = Path("team.toml").read_text(encoding="utf-8")
    assert '= "?"' not in text
    # What a person decides: three lines.
    for line in ("fill_down = ", "from = ", "hard = false"):
        assert text.count(f"\n# {line}") == 1
        text = text.replace(f"\n# {line}", f"\n{line}")
    Path("team.toml").write_text(text, encoding="utf-8")
    assert run(read) == 0
    assert run(rates) == 0
    table = pd.read_parquet("season.parquet")
    assert len(table) == len(truth) == 2_552
    expected = pd.concat(halves)
    for name in ("hitter", "outcome", "inning", "balls", "strikes"):
        assert table[name].astype(str).tolist() == expected[name].astype(str).tolist(), name
    assert table["result"].fillna("").tolist() == expected["result"].tolist()
    assert table["game"].nunique() == truth["game"].nunique()


# what a draft has to bear


def test_a_draft_is_a_mapping_whatever_stands_in_the_files(tmp_path: Path) -> None:
    columns = {
        "Batter": ["Ada", "Bea", "Cy", "Dee"],
        "Result": ["bunt", "hard", 'say "x"\x7f', "ball"],
        "Bunt": ["x", "?", "", "maybe"],
        "Hard": ["L", "", "\x7f", "x"],
        "Note\x7f": ["a", "b", "c", "d"],
        "Type": ["*1", "#2", "****3", "x" * 12_000],
    }
    text = draft_mapping(pd.DataFrame(columns))
    rules = tomllib.loads(text)
    assert load_mapping(rules).undecided["outcome"] == {'say "x"\x7f'}
    # These two are names of columns, too, and have words of their own.
    assert rules["patterns"]["bunt"] == rules["patterns"]["hard"] == "?"
    assert rules["words"]["bunt"]["maybe"] == "?"
    decided = rules | {"patterns": {"bunt": "sacrifice bunt, bunt", "hard": "foul"}}
    reading = read_pitches(pd.DataFrame(columns), decided, most_set_aside=1)
    assert reading.table["outcome"].tolist() == ["in play", "foul", "ball"]


def test_a_line_break_in_the_name_of_a_file_ends_no_line_of_a_draft(tmp_path: Path) -> None:
    path = tmp_path / "two\n[words].csv"
    path.write_text("hitter,outcome\nAda,blip\n")
    text = draft_mapping(path)
    assert tomllib.loads(text)["words"] == {"blip": "?"}
    assert len(re.findall(r"^\[words\]", text, re.MULTILINE)) == 1


def test_two_columns_of_one_name_are_said_and_one_of_them_is_drafted() -> None:
    sheet = pd.DataFrame([["Ada", "b", "x"]], columns=["Batter", "Result", "Result"])
    text = draft_mapping(sheet)
    assert tomllib.loads(text)["columns"] == {"Batter": "hitter", "Result": "outcome"}
    assert '# "Result": a second column of this name' in text


def test_the_files_of_a_draft_are_opened_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a.csv").write_text("Hitter,Result\nAda,b\n")
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(b"Batter,Result\nBea,foul\n")))
    rules = tomllib.loads(draft_mapping([tmp_path / "a.csv", "-"]))
    assert rules["also"] == {"Batter": "Hitter"}
    assert rules["columns"] == {"Hitter": "hitter", "Result": "outcome"}
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(b"Batter,Result\nBea,foul\n")))
    assert read_pitches([tmp_path / "a.csv", "-"], rules).table["hitter"].tolist() == ["Ada", "Bea"]


def test_slips_are_mended_only_once_the_draft_is_told_so() -> None:
    text = draft_mapping(_sheet(hitter="Ada", outcome=["ball", "foull"]))
    assert "\n# mend_slips = true" in text
    assert not load_mapping(tomllib.loads(text)).mend_slips
    reading = read_pitches(
        _sheet(hitter="Ada", outcome=["ball", "foull"]), tomllib.loads(text), most_set_aside=1
    )
    assert reading.set_aside["value"].tolist() == ["foull"]


def test_names_of_a_draft_that_clubs_tell_apart_are_not_one() -> None:
    sheet = _sheet(
        hitter=["Nadia Izezno"] * 3 + ["Nadia Izezna"], club=["Larks"] * 3 + ["Owls"], outcome="ball"
    )
    assert "may be one name" not in draft_mapping(sheet)
    assert '# "Nadia Izezna" = "Nadia Izezno"  # 1 row' in draft_mapping(sheet.assign(club="Larks"))
    roster = pd.DataFrame({"number": ["12"], "name": ["Ada Frusk"], "club": ["Larks"]})
    other = draft_mapping(_sheet(hitter=["12", "12"], club=["Larks", "Owls"], outcome="ball"), roster=roster)
    assert '# "#12": not in the roster, 1 row' in other


def test_a_draft_says_of_what_is_no_pitch_that_it_may_be_none() -> None:
    assert '"Balk" = "?"  # 1 row; may be no pitch' in draft_mapping(
        _sheet(hitter="Ada", outcome=["ball", "Balk"])
    )


# the year


def _days(tmp_path: Path, *years: int) -> Path:
    import datetime as dt

    import xlsxwriter

    path = tmp_path / "days.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet, day = book.add_worksheet("One"), book.add_format({"num_format": "m/d"})
        sheet.write_row(0, 0, ["date", "hitter", "outcome"])
        for row, year in enumerate(years, 1):
            sheet.write_datetime(row, 0, dt.datetime(year, 4, 3), day)
            sheet.write_row(row, 1, ["Ada", "ball"])
    return path


def test_a_year_holds_where_every_date_is_a_day_of_a_workbook(tmp_path: Path) -> None:
    path = _days(tmp_path, 2031, 2031, 2026)
    for mapping, year in ((None, 2031), ({"dates": {"year": 2031}}, None)):
        reading = read_pitches(path, mapping, year=year, most_set_aside=1)
        assert reading.table["date"].isna().tolist() == [False, False, True]
        assert reading.set_aside["reason"].tolist() == ["a date of another year than the mapping says (2031)"]
    drafted = tomllib.loads(draft_mapping(path, year=2031))
    assert drafted["dates"] == {"year": 2031}
    assert read_pitches(path, drafted).table["date"].isna().tolist() == [False, False, True]


@pytest.mark.parametrize("date", ["2031-04-03", "4/3/2031"])
def test_a_year_without_use_is_refused_by_reading_and_draft_alike(date: str) -> None:
    sheet = _sheet(date=[date], hitter="Ada", outcome="ball")
    rules = {"file": {"date_format": "%m/%d/%Y"}} if "/" in date else {}
    with pytest.raises(ReadingError, match=r"year=: 2031 has no use"):
        read_pitches(sheet, rules, year=2031)
    with pytest.raises(ReadingError, match=r"\[dates\] year: 2031 has no use"):
        read_pitches(sheet, {**rules, "dates": {"year": 2031}})
    with pytest.raises(ReadingError, match=r"year=: 2031 has no use"):
        draft_mapping(sheet, year=2031)
    # Where no column seems to hold the dates, whoever names one finds the year beside it.
    assert "# year = 2031  # no column" in draft_mapping(_sheet(hitter="Ada", outcome=["ball"]), year=2031)
    with pytest.raises(ReadingError, match=r"year=: 31 is not a whole number"):
        draft_mapping(_sheet(date=["4/3"], hitter="Ada", outcome="ball"), year=31)


# lines to copy


@pytest.mark.parametrize("where", ["report", "README"])
def test_lines_that_are_shown_can_be_written_as_they_stand(where: str, tmp_path: Path) -> None:
    if where == "README":
        text = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
    else:
        one = _sheet(
            date=["2026-04-03", "2026-04-03"], Opp="Owls", inning=["7", "1"], hitter="Ada", outcome="ball"
        )
        path = workbook(tmp_path / "two.xlsx", {"A": one, "Legend": _sheet(sign=["x"], meaning="hard")})
        text = str(read_pitches(path).report)
        assert 'under [games]: from = ["date", "Opp", "inning"]' in text
        assert 'under [file]: skip = ["Legend"]' in text
    assert not re.findall(r"\[(?:games|file)\] (?:from|skip) = \[", text)


# the command


def test_a_draft_takes_no_option_that_is_of_a_table(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "a.csv").write_text("hitter,outcome\nAda,ball\n")
    draft = ["read", str(tmp_path / "a.csv"), "--draft", str(tmp_path / "m.toml")]
    for options in (
        ["--json"],
        ["--most-set-aside", "0.1"],
        ["--most-empty", "0.5"],
        ["--save", "t.parquet"],
    ):
        assert run([*draft, *options]) == 2
        assert f"leave out {options[0]}" in capsys.readouterr().err
    assert run(draft) == 0


def test_only_lines_that_wait_are_counted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "a.csv").write_text('hitter,outcome\nAda,blip\nAda,"say = ""?"""\nAda,foul\n')
    assert run(["read", str(tmp_path / "a.csv"), "--draft", str(tmp_path / "m.toml")]) == 0
    text = (tmp_path / "m.toml").read_text(encoding="utf-8")
    assert "# 2 line(s) with a question mark." in text
    assert "2 line(s) with a question mark" in capsys.readouterr().out


def test_shares_of_the_command_are_those_of_reading() -> None:
    told = {one.name: one.default for one in read_files.params}
    usual = inspect.signature(read_pitches).parameters
    assert told["most_set_aside"] == usual["most_set_aside"].default == SOME_SET_ASIDE
    assert told["most_empty"] == usual["most_empty"].default == HALF_EMPTY


def test_a_column_called_pitch_is_a_number_or_what_was_thrown() -> None:
    kinds = _sheet(Batter="Ada", Result=["ball", "foul", "whiff"], Pitch=["FB", "slider", "curve"])
    drafted = tomllib.loads(draft_mapping(kinds))
    assert drafted["columns"]["Pitch"] == "pitch_kind"
    assert drafted["words"]["pitch_kind"]["curve"] == "curveball"
    assert len(read_pitches(kinds, _decided(drafted)).table) == 3
    numbers = kinds.assign(Pitch=["1", "2", "3"])
    assert tomllib.loads(draft_mapping(numbers))["columns"]["Pitch"] == "pitch"


def _decided(drafted: dict[str, Any]) -> dict[str, Any]:
    """Give a draft with each open word of what was thrown decided."""
    words = drafted["words"]["pitch_kind"]
    return drafted | {"words": drafted["words"] | {"pitch_kind": dict.fromkeys(words, "fastball")}}


def test_two_who_chart_otherwise_are_read_by_one_mapping() -> None:
    """One writes 1B where the other writes "in play" and the result beside it; one writes the year."""
    sheet = _sheet(
        date=["5/3", "5/3", "2031-05-04", "2031-05-04", "2031-05-04"],
        Gm=["1", "", "1", "1", "1"],
        hitter="Ada",
        outcome=["1B", "K swing", "in play", "in play", "x"],
        result=["", "", "double", "", ""],
        hard=["", "", "", "x", ""],
    )
    mapping = {
        "file": {"date_format": "%m/%d"},
        "dates": {"year": 2031},
        "words": {"1B": "single", "K swing": "whiff, strikeout", "x": "in play", "hard": {"x": True}},
        "games": {"from": ["date", "Gm"]},
    }
    reading = read_pitches(sheet, mapping)
    table = reading.table
    assert table["date"].astype(str).tolist() == ["2031-05-03"] * 2 + ["2031-05-04"] * 3
    assert table["outcome"].tolist() == ["in play", "whiff", "in play", "in play", "in play"]
    assert table["result"].fillna("none").tolist() == ["single", "strikeout", "double", "none", "none"]
    # A word that means hard in its own column means nothing of it in that of the outcome.
    assert table["hard"].fillna(False).tolist() == [False, False, False, True, False]
    assert "result: 2 blank cell(s) were told by the words of outcome." in reading.report.assumed
    assert any("1 row without a game: Gm" in one for one in reading.report.alerts)


def test_words_of_a_column_beside_are_for_that_column_alone() -> None:
    """What the outcome's word tells is our word already; the other column's own words are its own."""
    sheet = _sheet(hitter="Ada", outcome=["1B", "1B", "in play"], result=["", "2B", "single"])
    words = {"1B": "single", "result": {"2B": "double", "single": "out"}}
    reading = read_pitches(sheet, {"words": words})
    assert reading.table["result"].tolist() == ["single", "double", "out"]


@pytest.mark.parametrize(("form", "text"), [("%Y-%d-%m", "2031-05-31"), ("%Y/%m/%d", "2031-05-31")])
def test_beside_years_in_front_no_other_day_is_guessed(form: str, text: str) -> None:
    own = "2031-31-05" if "-" in form else "2031/05/31"
    sheet = _sheet(date=[own, text], hitter="Ada", outcome="ball")
    reading = read_pitches(sheet, {"file": {"date_format": form}})
    assert reading.table["date"].isna().tolist() == [False, True]


def test_blanks_of_a_chart_that_says_not_hard_are_no_ticks(tmp_path: Path) -> None:
    ticks = _sheet(hitter="Ada", outcome="in play", hard=["x", "", "", "x"])
    both = _sheet(hitter="Bea", outcome="in play", hard=["y", "n", "", "n"])
    for name, sheet in (("anna", ticks), ("berta", both)):
        sheet.to_csv(tmp_path / f"{name}.csv", index=False)
    words = {"hard": {"x": True, "y": True, "n": False}}
    files = [tmp_path / "anna.csv", tmp_path / "berta.csv"]
    reading = read_pitches(files, {"words": words, "blanks": {"hard": False}})
    assert [one for one in reading.report.alerts if "berta.csv" in one and "1 blank of it" in one]
    assert not [one for one in reading.report.alerts if "anna.csv says" in one]
    for alone in ([files[1]], [files[0]]):  # whoever reads one chart has said what a blank of it is
        assert not read_pitches(alone, {"words": words, "blanks": {"hard": False}}).report.alerts


@pytest.mark.parametrize(
    ("heading", "cells", "ours", "unit"),
    [
        ("EV km/h", ["", "121,3", "155,0"], "exit_mph", "km/h"),
        ("Exit Velo (mph)", ["", "71.3", "95"], "exit_mph", ""),
        ("Exit speed [m/s]", ["", "31.3", "40.2"], "exit_mph", "m/s"),
        ("off the bat kph", ["", "121", "155"], "exit_mph", "km/h"),
        ("Launch Angle", ["", "-12.5", "31"], "launch_deg", ""),
        ("launch angle (°)", ["", "-12", "+31"], "launch_deg", ""),
        ("Velo (km/h)", ["140", "131", "122.5"], "speed_mph", "km/h"),
        ("MPH", ["91", "85", "78"], "speed_mph", ""),
    ],
)
def test_a_heading_may_name_its_unit(heading: str, cells: list[str], ours: str, unit: str) -> None:
    sheet = _sheet(Batter="Ada", Call=["ball", "foul", "in play"], **{heading: cells})
    drafted = tomllib.loads(draft_mapping(sheet))
    assert drafted["columns"][heading] == ours
    assert drafted.get("units", {}) == ({ours: unit} if unit else {})
    read = read_pitches(sheet, drafted).table[ours]
    times = {"km/h": 1 / 1.609344, "m/s": 3600 / 1609.344}.get(unit, 1.0)  # the mile is 1,609.344 m
    told = float(cells[2].replace(",", ".")) * times
    half = 0.5 if cells[2].isdecimal() else 0.05  # of the place to which it is written
    assert read.iloc[2] == pytest.approx(told, abs=half * times)


def test_runners_and_how_it_ended_are_drafted_with_their_words() -> None:
    sheet = _sheet(
        Batter="Ada",
        Call=["ball", "foul", "in play"],
        Runners=["---", "1-3", "loaded"],
        **{"PA Result": ["", "", "HR"]},
    )
    drafted = tomllib.loads(draft_mapping(sheet))
    assert drafted["columns"]["Runners"] == "bases"
    assert drafted["columns"]["PA Result"] == "result"
    table = read_pitches(sheet, drafted).table
    assert table["bases"].tolist() == ["empty", "first third", "full"]
    assert table["result"].iloc[2] == "home run"


def test_a_heading_that_names_another_thing_takes_no_column_of_ours() -> None:
    """Letters over words, a height of whom nobody knows, an angle whose sides are not told: they wait."""
    sheet = _sheet(
        Batter="Ada",
        Call=["ball", "foul", "in play"],
        Direction=["", "", "LF"],
        LA=["", "", "soft"],
        **{"Height (in)": ["70", "70", "70"], "Spray angle": ["", "-12", "31"]},
    )
    text = draft_mapping(sheet)
    assert set(tomllib.loads(text)["columns"].values()) == {"hitter", "outcome"}
    # And the draft says what such a column can be.
    free = text.partition("no line names yet:")[2].partition("# keep")[0].replace("#", "").replace("\n", "")
    assert {"spray_deg", "hitter_id", "runs"} <= set(free.replace(" ", "").split(","))
    assert not {"hitter", "outcome"} & set(free.replace(" ", "").split(","))


@pytest.mark.parametrize(
    ("heading", "cells"),
    [
        ("Hard hit mph", ["", "95", "101"]),
        ("Launch angle (mph)", ["", "12", "31"]),
        ("Velo (deg)", ["90", "85", "78"]),
        ("Runs (mph)", ["0", "1", "0"]),
        ("S (m/s)", ["0", "1", "2"]),
    ],
)
def test_a_heading_with_a_unit_that_a_column_of_ours_has_not_is_another_thing(
    heading: str, cells: list[str]
) -> None:
    sheet = _sheet(Batter="Ada", Call=["ball", "foul", "in play"], **{heading: cells})
    drafted = tomllib.loads(draft_mapping(sheet))
    assert heading not in drafted["columns"]
    assert "units" not in drafted


def test_an_outcome_under_a_heading_with_a_unit_has_none() -> None:
    drafted = tomllib.loads(
        draft_mapping(_sheet(Batter="Ada", **{"Call (mph)": ["ball", "foul", "in play"]}))
    )
    assert drafted["columns"]["Call (mph)"] == "outcome"
    assert "units" not in drafted


@pytest.mark.parametrize(
    ("headings", "one"),
    [
        (("Velo (mph)", "Velo (km/h)"), False),
        (("MPH", "Velo (km/h)"), False),
        (("Velo (km/h)", "Speed kph"), True),
        (("Velo (mph)", "Speed"), True),
    ],
)
def test_columns_of_two_units_never_become_one(tmp_path: Path, headings: tuple[str, str], one: bool) -> None:
    files = [tmp_path / "anna.csv", tmp_path / "berta.csv"]
    for file, heading in zip(files, headings, strict=True):
        file.write_text(f"Batter,Call,{heading}\nAda Frusk,ball,100\nBea Plome,foul,110\n", encoding="utf-8")
    drafted = tomllib.loads(draft_mapping(files))
    assert ("also" in drafted) == one
    speeds = read_pitches(files, drafted).table["speed_mph"]
    assert speeds.notna().tolist() == [True, True, one, one]


def test_how_many_are_on_base_is_not_taken_for_which_base() -> None:
    def words(*cells: str) -> dict[str, str]:
        sheet = _sheet(Batter="Ada", Call=["ball", "foul", "in play", "ball"], **{"Men on": list(cells)})
        text = draft_mapping(sheet)
        assert ("may be second or two runners" in text) == ("2" in cells and "12" not in cells)
        return tomllib.loads(text)["words"]["bases"]

    assert words("0", "1", "2", "3") == {"0": "empty", "1": "?", "2": "?", "3": "?"}
    assert words("0", "1", "2", "12") == {
        "0": "empty",
        "1": "first",
        "2": "second",
        "12": "first second",
    }


@pytest.mark.parametrize("padded", [False, True], ids=["alone", "padded"])
def test_a_draft_passes_over_titles_wherever_they_stand_in_a_folder(tmp_path: Path, padded: bool) -> None:
    """One line of a mapping could not say it: the names stand on another line in each sheet."""
    ends = ",," if padded else ""
    rows = "Ada Frusk,ball,dug\nBea Plome,foul,dug\n"
    folder = tmp_path / "week"
    folder.mkdir()
    (folder / "a.csv").write_text(f"Larks at Owls{ends}\nBatter,Pitch Result,By\n{rows}")
    (folder / "b.csv").write_text(f"Owls at Larks{ends}\nMay{ends}\n\nBatter,Pitch Result,By\n{rows}")
    (folder / "c.csv").write_text(f"Batter,Pitch Result,By\n{rows}")
    draft = tmp_path / "drafted.toml"
    assert run(["read", str(folder), "--draft", str(draft)]) == 0
    text = draft.read_text(encoding="utf-8")
    assert "line above the header was passed over: 'Larks at Owls" in text
    assert "2 lines above the header were passed over: 'Owls at Larks" in text
    assert "header_line" not in text
    reading = read_pitches(folder, draft)
    assert reading.table["hitter"].tolist() == ["Ada Frusk", "Bea Plome"] * 3
    assert reading.table["outcome"].tolist() == ["ball", "foul"] * 3


def test_below_a_title_a_draft_takes_names_that_nobody_knows_and_says_so(tmp_path: Path) -> None:
    path = tmp_path / "week.csv"
    path.write_text("Larks at Owls\nMay,\nAa,Bb\nAda Frusk,b\nBea Plome,foul\n")
    text = draft_mapping(path)
    assert '# "Aa" = "..."' in text
    assert "2 lines above the header were passed over: 'Larks at Owls', 'May,'" in text
    named = text.replace('# "Aa" = "..."', '"Aa" = "hitter"').replace('# "Bb" = "..."', '"Bb" = "outcome"')
    again = draft_mapping(path, mapping=tomllib.loads(named))
    assert '"b" = "ball"' in again
    assert read_pitches(path, tomllib.loads(again)).report.rows_kept == 2


def test_decimal_commas_below_semicolons_make_no_title_of_the_names(tmp_path: Path) -> None:
    file = tmp_path / "chart.csv"
    rows = "Ada Frusk;in play;121,5\nBea Plome;in play;140,0\nAda Frusk;in play;150,2\n"
    file.write_text(f"Batter;Call;EV (km/h)\n{rows}", encoding="utf-8")
    drafted = tomllib.loads(draft_mapping(file))
    assert drafted["file"] == {"decimal": ","}
    read = read_pitches(file, drafted)
    assert read.table["exit_mph"].tolist() == pytest.approx(
        [75.5, 87.0, 93.3], abs=0.05
    )  # a mile is 1.609 km
    assert len(read.table) == 3


def test_cells_that_are_all_days_or_all_in_the_roster_tell_their_column() -> None:
    roster = pd.DataFrame({"name": ["Ada Frusk", "Bea Plome"], "number": ["12", "7"]})
    sheet = _sheet(
        girl=["Ada Frusk", "bea plome", "Frusk"],
        noted=["2031-05-04", "2031-05-05", "2031-05-05"],
        outcome=["ball", "foul", "ball"],
    )
    text = draft_mapping(sheet, roster=roster)
    assert '\n"girl" = "hitter"  # ' in text
    assert '\n"noted" = "date"  # ' in text
    assert '# "girl" = "..."' in draft_mapping(sheet)
    table = read_pitches(sheet, tomllib.loads(text), roster=roster).table
    assert table["hitter"].tolist() == ["Ada Frusk", "Bea Plome", "Ada Frusk"]
    assert table["date"].notna().all()
    told = sheet.assign(hitter="Ada Frusk", date="2031-05-04")
    assert '# "girl" = "..."' in draft_mapping(told, roster=roster)
    assert '# "noted" = "..."' in draft_mapping(told, roster=roster)


def test_cells_that_leave_a_doubt_are_proposals() -> None:
    roster = pd.DataFrame({"name": ["Ada Frusk", "Bea Plome"], "number": ["1", "2"]})
    numbers = draft_mapping(_sheet(**{"Bat #": ["1", "2"], "outcome": ["ball", "foul"]}), roster=roster)
    assert '# "Bat #" = "hitter"  # all are in the roster; ' in numbers
    two = _sheet(one=["Ada Frusk", "Bea Plome"], other=["Bea Plome", "Ada Frusk"], outcome=["ball", "foul"])
    text = draft_mapping(two, roster=roster)
    assert '# "one" = "hitter"  # all are in the roster; ' in text
    assert '# "other" = "hitter"  # all are in the roster; ' in text
    stranger = _sheet(one=["Ada Frusk", "Cy Drul"], outcome=["ball", "foul"])
    assert '# "one" = "..."' in draft_mapping(stranger, roster=roster)
    days = _sheet(born=["2009-05-04", "2012-07-01"], hitter=["Ada", "Bea"], outcome=["ball", "foul"])
    assert '# "born" = "date"  # all are days; ' in draft_mapping(days)
