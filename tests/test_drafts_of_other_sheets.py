"""Drafts of sheets as clubs and schools make them: other languages, two rows of headings, shapes."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from hitlab.cli.commands import run
from hitlab.errors import ReadingError
from hitlab.pitches.chart_words import OTHERS, WORDS
from hitlab.pitches.drafting import draft_mapping
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.schema import COLUMNS
from hitlab.pitches.telling import tell
from hitlab.pitches.wordforms import fold
from hitlab.pitches.words_abroad import HEADINGS_ABROAD, OTHERS_ABROAD, WORDS_ABROAD
from tests.needs import package

package("xlsxwriter")
package("python_calamine")


def _sheet(**columns: Any) -> pd.DataFrame:
    return pd.DataFrame({name.replace("_", " "): cells for name, cells in columns.items()})


def _drafted(source: Any, **more: Any) -> dict[str, Any]:
    return tomllib.loads(draft_mapping(source, **more))


# What stands above


_GROUPS = ["Game", "", "Hitter", "", "Count", "", "Pitch", "What"]
_NAMES = ["Date", "Inn", "Name", "L/R", "B", "S", "Velo (mph)", "Call"]
_PITCHES = [
    ["2026-04-03", "1", "Ada Frusk", "L", "0", "0", "71.5", "ball"],
    ["2026-04-03", "1", "Ada Frusk", "L", "1", "0", "70.5", "whiff"],
]


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
def test_the_lower_of_two_rows_of_headings_names_the_columns(tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"chart{ending}"
    rows = pd.DataFrame([_GROUPS, _NAMES, *_PITCHES])
    if ending == ".csv":
        rows.to_csv(path, header=False, index=False)
    else:
        rows.to_excel(path, header=False, index=False, engine="xlsxwriter")
    drafted = _drafted(path)
    assert drafted["columns"]["Name"] == "hitter"
    reading = read_pitches(path, drafted)
    assert reading.table["hitter"].tolist() == ["Ada Frusk", "Ada Frusk"]
    assert reading.table["balls"].tolist() == [0, 1]
    assert "above" in " ".join(reading.report.assumed)


def test_the_row_that_a_mapping_names_stays_the_row_of_names(tmp_path: Path) -> None:
    path = tmp_path / "chart.csv"
    pd.DataFrame([_GROUPS, _NAMES, *_PITCHES]).to_csv(path, header=False, index=False)
    rules = {"columns": {"Hitter": "hitter", "Pitch": "speed_mph", "What": "outcome"}}
    reading = read_pitches(path, rules)
    assert reading.report.rows_read == 3  # its own names of columns are then a row without an outcome of ours
    assert set(reading.set_aside["row"]) == {1}


def test_a_first_pitch_with_blanks_is_no_row_of_headings(tmp_path: Path) -> None:
    path = tmp_path / "chart.csv"
    path.write_text("hitter,outcome,note,clip\nAda Frusk,ball,hard,out\nAda Frusk,whiff,,\n")
    assert read_pitches(path).report.rows_kept == 2


def test_text_in_another_encoding_is_drafted_with_a_guess_that_says_so(tmp_path: Path) -> None:
    path = tmp_path / "chart.csv"
    path.write_bytes("Batter;What\nZoë Plöme;ball\nAda Frusk;whiff\n".encode("cp1252"))
    with pytest.raises(ReadingError, match="is not utf-8"):
        read_pitches(path, {"columns": {"Batter": "hitter", "What": "outcome"}})
    text = draft_mapping(path)
    (line,) = [line for line in text.splitlines() if line.startswith("encoding")]
    assert (
        line == "encoding = \"cp1252\"  # a guess, by which one cell is 'Zoë Plöme': are its letters right?"
    )
    assert read_pitches(path, tomllib.loads(text)).table["hitter"].tolist() == ["Zoë Plöme", "Ada Frusk"]


def test_two_bytes_a_letter_without_a_mark_are_drafted_too(tmp_path: Path) -> None:
    path = tmp_path / "chart.csv"
    path.write_bytes("Batter;What\nZoë Plöme;ball\nAda Frusk;whiff\n".encode("utf-16-le"))
    drafted = _drafted(path)
    assert drafted["file"]["encoding"] == "utf-16-le"
    assert read_pitches(path, drafted).table["hitter"].tolist() == ["Zoë Plöme", "Ada Frusk"]


def test_where_no_guess_fits_the_encoding_is_asked_for(tmp_path: Path) -> None:
    path = tmp_path / "chart.csv"
    path.write_bytes("打者,結果\n青い,空振り\n".encode("shift_jis"))
    with pytest.raises(
        ReadingError, match=r"chart\.csv is not utf-8: byte .*, and as cp1252 it cannot be read"
    ) as refused:
        draft_mapping(path)
    assert 'encoding = "utf-8"' not in str(refused.value)
    told = _drafted(path, mapping={"file": {"encoding": "shift_jis"}})
    assert told["columns"] == {"打者": "hitter", "結果": "outcome"}


def test_of_several_files_no_encoding_is_guessed(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_bytes("Batter,What\nZoë Plöme,ball\n".encode("cp1252"))
    (tmp_path / "b.csv").write_bytes("Batter,What\nZoë Plöme,ball\n".encode())
    with pytest.raises(ReadingError, match=r"a\.csv is not utf-8"):
        draft_mapping([tmp_path / "a.csv", tmp_path / "b.csv"])


# What a mapping says already


def test_a_draft_takes_over_what_a_mapping_says_of_the_columns(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, named, second = tmp_path / "chart.csv", tmp_path / "named.toml", tmp_path / "second.toml"
    rows = ["Grimp|Wo|Zab|Tick", "Ada Frusk|glop|0-1|x", "Bea Plome|foul|1-1|", "Bea Plome|glop|1-2|x"]
    path.write_text("\n".join(rows))
    named.write_text(
        '[file]\ndelimiter = "|"\n[columns]\n"Grimp" = "hitter"\n"Wo" = ["outcome", "result"]\n'
        '"Tick" = "swing"\n[split."Zab"]\ninto = ["balls", "strikes"]\nseparator = "-"\n'
    )
    assert run(["read", str(path), "--mapping", str(named), "--draft", str(second)]) == 0
    assert "1 line(s) with a question mark" in capsys.readouterr().out
    drafted = tomllib.loads(second.read_text())
    assert drafted["columns"] == {"Grimp": "hitter", "Wo": ["outcome", "result"], "Tick": "swing"}
    assert drafted["split"] == {"Zab": {"into": ["balls", "strikes"], "separator": "-"}}
    assert drafted["file"] == {"delimiter": "|"}
    assert drafted["words"]["glop"] == "?"


def test_what_a_draft_lacks_is_said_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, draft = tmp_path / "chart.csv", tmp_path / "draft.toml"
    path.write_text("Grimp,Wo\nAda Frusk,glop\n")
    assert run(["read", str(path), "--draft", str(draft)]) == 0
    said = capsys.readouterr().out
    assert "no column was found that tells hitter or outcome, and without it nothing can" in said
    path.write_text("Batter,Wo\nAda Frusk,glop\n")
    draft.unlink()
    assert run(["read", str(path), "--draft", str(draft)]) == 0
    assert "no column was found that tells outcome, and" in capsys.readouterr().out
    path.write_text("Batter,What\nAda Frusk,ball\n")
    draft.unlink()
    assert run(["read", str(path), "--draft", str(draft)]) == 0
    assert "no column was found" not in capsys.readouterr().out


def test_a_draft_refuses_a_mapping_of_other_columns() -> None:
    sheet = _sheet(Batter=["Ada Frusk"], What=["ball"])
    with pytest.raises(ReadingError, match=r"names the column 'Who', which .* does not have"):
        draft_mapping(sheet, mapping={"columns": {"Who": "hitter"}})


# Words of other languages


_ABROAD = [
    (
        _sheet(
            Datum="03.04.2026",
            Schlagmann="Zoë Plöme",
            Ergebnis=["Ball", "Strike angesehen"],
            **{"Tempo_(km/h)": ["128,5", "130,0"]},
        ),
        ["ball", "called strike"],
    ),
    (
        _sheet(
            Fecha="2026-04-13",
            Entrada=["Alta 1", "Baja 1"],
            Bateador="Zoë Plöme",
            **{"Resultado": ["bola", "strike tirándole"], "Velocidad_(mph)": ["71.2", "70"]},
        ),
        ["ball", "whiff"],
    ),
    (
        _sheet(
            日付="2026年4月3日",
            回=["1回表", "1回裏"],
            打者="Zoë Plöme",
            カウント="0-1",
            **{"結果": ["ボール", "空振り"], "球速(km/h)": ["128", "130"]},
        ),
        ["ball", "whiff"],
    ),
]


@pytest.mark.parametrize(("sheet", "outcomes"), _ABROAD, ids=["German", "Spanish", "Japanese"])
def test_a_sheet_in_another_language_is_drafted(sheet: pd.DataFrame, outcomes: list[str]) -> None:
    drafted = _drafted(sheet)
    drafted.setdefault("file", {}).setdefault("date_format", "%d.%m.%Y")
    if "Fecha" in sheet:
        del drafted["file"]["date_format"]
    table = read_pitches(sheet, drafted).table
    assert table["hitter"].tolist() == ["Zoë Plöme"] * 2
    assert table["outcome"].tolist() == outcomes
    assert table["speed_mph"].between(65, 85).all()
    assert table["date"].notna().all()
    if "half" in table:
        assert table["inning"].tolist() == [1, 1]
        assert table["half"].tolist() == ["top", "bottom"]


def test_words_of_other_languages_mean_nothing_else_here() -> None:
    own = {fold(word): told for told, words in WORDS.items() for word in words}
    for told, words in WORDS_ABROAD.items():
        assert isinstance(tell(told), dict), told
        for word in words:
            assert own.get(fold(word), told) == told, word
    assert set(HEADINGS_ABROAD) <= set(COLUMNS)
    for target, table in OTHERS_ABROAD.items():
        assert set(table) <= set(COLUMNS[target].words)
        here = {fold(word): ours for ours, words in OTHERS[target].items() for word in words}
        seen: dict[str, str] = {}
        for ours, words in table.items():
            for word in words:
                assert here.get(fold(word), ours) == seen.setdefault(fold(word), ours) == ours, word


# Shapes


def test_an_inning_and_its_half_in_one_cell_become_two() -> None:
    halves = ["T1", "B1", "T2", "B2"]
    sheet = _sheet(Batter="Ada Frusk", Inn=halves, What="ball", Date="2026-04-03")
    text = draft_mapping(sheet)
    drafted = tomllib.loads(text)
    assert drafted["columns"]["Inn"] == ["inning", "half"]
    table = read_pitches(sheet, drafted).table
    assert table["inning"].tolist() == [1, 1, 2, 2]
    assert table["half"].tolist() == ["top", "bottom"] * 2
    # Two games of one day show in them, as in plain innings.
    twice = pd.concat([sheet, sheet], ignore_index=True)
    assert '# from = ["date", "inning"]' in draft_mapping(twice)


def test_where_one_inning_tells_no_half_nobody_guesses() -> None:
    sheet = _sheet(Batter="Ada Frusk", Inn=["T1", "late", "T2"], What="ball")
    assert "Inn" not in _drafted(sheet)["columns"]


def test_bases_named_one_by_one_or_marked_are_drafted() -> None:
    cells = ["1B,3B", "x-x", "---", "1st & 2nd", "xxx", "-", "2B, 2B"]
    drafted = _drafted(_sheet(Batter="Ada Frusk", On=cells, What="ball"))
    words = drafted["words"]["bases"]
    assert [words[cell] for cell in cells] == [
        *("first third", "first third", "empty", "first second", "full", "?", "?")
    ]


@pytest.mark.parametrize("names", [("Pitch", "Pitch #"), ("Pitch #", "Pitch")])
def test_of_two_columns_of_one_name_the_one_that_fits_is_taken(names: tuple[str, str]) -> None:
    cells = {"Pitch": ["fastball", "slider", "curveball"], "Pitch #": ["1", "2", "3"]}
    sheet = pd.DataFrame({"Batter": "Ada Frusk", **{name: cells[name] for name in names}, "What": "ball"})
    told = _drafted(sheet)["columns"]
    assert told == {"Batter": "hitter", "Pitch": "pitch_kind", "Pitch #": "pitch", "What": "outcome"}


def test_at_bat_is_who_is_up_or_which_turn_it_is() -> None:
    numbers = _sheet(At_Bat=["1", "1", "2"], Player="Ada Frusk", What="ball")
    assert _drafted(numbers)["columns"] == {
        "At Bat": "plate_appearance",
        "Player": "hitter",
        "What": "outcome",
    }
    names = _sheet(At_Bat=["Ada Frusk", "Ada Frusk", "Bea Plome"], What="ball")
    assert _drafted(names)["columns"]["At Bat"] == "hitter"


def test_a_column_of_bare_numbers_is_said_to_be_one_of_several() -> None:
    text = draft_mapping(_sheet(**{"#": ["12", "7"], "What": ["ball", "whiff"]}))
    assert '# "#" = "..."  # not used; may be hitter (the number on the back, with --roster)' in text


def test_what_stands_for_nothing_among_numbers_is_missing() -> None:
    sheet = _sheet(**{"Batter": "Ada Frusk", "EV_[mph]": ["N/A", "91.5"], "What": ["ball", "in play"]})
    drafted = _drafted(sheet)
    assert drafted["columns"]["EV [mph]"] == "exit_mph"
    assert drafted["file"]["missing"] == ["N/A"]
    reading = read_pitches(sheet, drafted)
    assert reading.report.values_made_missing == 0
    dashes = sheet.assign(**{"EV [mph]": ["-", "91.5"], "Runners": ["-", "1B"]})
    assert "missing" not in _drafted(dashes).get("file", {})  # nobody on base is something


# Days and games


def test_days_with_the_name_of_a_month_and_two_digits_have_a_form() -> None:
    sheet = _sheet(Batter="Ada Frusk", Date="03-Apr-26", What="ball", N=["1", "2"])
    drafted = _drafted(sheet)
    assert drafted["file"]["date_format"] == "%d-%b-%y"
    assert read_pitches(sheet, drafted).table["date"].dt.strftime("%Y-%m-%d").tolist() == ["2026-04-03"] * 2


def test_a_total_below_the_days_is_said_to_be_none() -> None:
    sheet = _sheet(Batter=["Ada Frusk", ""], Date=["2026-04-03", "Total"], What=["ball", ""])
    assert "# no date, and without one where it stands: 'Total'" in draft_mapping(sheet)


def test_sheets_without_a_day_may_be_games(tmp_path: Path) -> None:
    path = tmp_path / "weekend.xlsx"
    sheet = _sheet(Batter=["Ada Frusk", "Bea Plome"], What=["ball", "whiff"])
    with pd.ExcelWriter(path, engine="xlsxwriter") as book:
        for name in ("Saturday", "Sunday"):
            sheet.to_excel(book, sheet_name=name, index=False)
    text = draft_mapping(path)
    assert '# from = ["sheet"]' in text
    drafted = tomllib.loads(text.replace("# from =", "from ="))
    assert read_pitches(path, drafted).table["game"].nunique() == 2
    assert not any("sheet" in line for line in draft_mapping(sheet).splitlines())
