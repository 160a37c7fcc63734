"""The mapping file: the worked example, and every slip of the pen in it."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from hitlab.errors import ReadingError
from hitlab.pitches import mapping as module
from hitlab.pitches.mapping import Mapping, load_mapping, shipped_mappings
from hitlab.pitches.reading import read_pitches


def _docstring_example() -> tuple[str, str]:
    """Sheet and mapping as they stand in the module's docstring, so that the two cannot part."""
    sheet, rest = (module.__doc__ or "").split("coach::")[1].split("and the mapping that reads it::")
    toml = rest.split("Columns that already carry")[0]
    return tuple(re.sub(r"^    ", "", part, flags=re.M).strip() + "\n" for part in (sheet, toml))  # type: ignore[return-value]


def test_the_worked_example_of_the_docstring_reads_its_sheet(tmp_path: Path) -> None:
    sheet, toml = _docstring_example()
    (tmp_path / "sheet.csv").write_text(sheet, encoding="cp1252")
    (tmp_path / "coach.toml").write_text(toml, encoding="utf-8")
    reading = read_pitches(tmp_path / "sheet.csv", tmp_path / "coach.toml")
    table = reading.table
    assert table["hitter"].tolist() == ["Ada Frusk", "Bea Plome", "Bea Plome"]
    assert table["date"].dt.strftime("%Y-%m-%d").tolist() == ["2031-05-04", "2031-05-04", "2031-05-11"]
    assert table["outcome"].tolist() == ["whiff", "in play", "in play"]
    assert table["result"].isna().tolist() == [True, False, False]
    assert table["result"][1] == "single"
    assert table[["balls", "strikes"]].to_numpy().tolist() == [[1, 2], [0, 0], [0, 1]]
    # The mile is 1.609344 km and the inch 2.54 cm, both by definition.
    # 79.846 by that; 128.5 is anything from 128.45 to 128.55, and 79.85 the roundest there.
    assert table["speed_mph"][0] == 79.85
    assert 128.45 <= table["speed_mph"][0] * 1.609344 <= 128.55
    # The right-handed hitter stands to the catcher's left, the left-handed to the right.
    # 11.5 to 12.5 cm are 4.53 to 4.92 inches, 29.5 to 30.5 cm 11.6 to 12.01: the roundest are 4.7 and 12.
    assert table["inside_in"].tolist()[:2] == [4.7, 12.0]
    assert table["level"].tolist() == ["college"] * 3
    assert table["Mood"].tolist() == ["calm", "cross", "calm"]
    assert table["hard"].astype(object).fillna("blank").tolist() == ["blank", True, False]
    assert "swing" not in table
    assert len(reading.set_aside) == 0


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ({"colums": {}}, ["'colums'", "Nearest: 'columns'"]),
        ({"columns": {"A": "hiter"}}, ["[columns] 'A'", "'hiter'", "Nearest: 'hitter'"]),
        ({"columns": {"A": "hitter", "B": "hitter"}}, ["hitter is filled twice", "'A'", "'B'"]),
        ({"columns": {"A": "level"}, "constants": {"level": "college"}}, ["level is filled twice"]),
        ({"columns": {"A": 3}}, ["[columns] 'A'", "3"]),
        ({"columns": {"A": []}}, ["empty list"]),
        ({"columns": "A"}, ["[columns]", "'A'", "section"]),
        ({"words": {"outcome": {"K": "wiff"}}}, ["[words.outcome] 'K'", "'wiff'", "Nearest: 'whiff'"]),
        ({"words": {"bunt": {"K": "perhaps"}}}, ["[words.bunt]", "true, false"]),
        ({"words": {"outcome": {"K": "ball", " k ": "foul"}}}, ["translated twice"]),
        ({"units": {"speed_mph": "knots"}}, ["'knots'", "mph, km/h, m/s"]),
        ({"units": {"inside_in": "mm"}}, ["'mm'", "in, ft, cm, m"]),
        ({"units": {"launch_deg": "grad"}}, ["deg, rad"]),
        ({"units": {"inning": "in"}}, ["'inning' is not a column that has a unit"]),
        ({"location": {"charted_from": "umpire"}}, ["'umpire'", "catcher, pitcher, hitter"]),
        ({"location": {"from": "catcher"}}, ["'from'", "charted_from"]),
        ({"count": {"from": "memory"}}, ["'memory'", "file, order"]),
        ({"file": {"delimeter": ";"}}, ["'delimeter'", "Nearest: 'delimiter'"]),
        ({"file": {"delimiter": ";;"}}, ["';;'"]),
        ({"file": {"delimiter": "§"}}, ["'§'"]),
        ({"file": {"decimal": ";"}}, ["decimal", "';'"]),
        ({"file": {"encoding": "utf-99"}}, ["'utf-99'"]),
        ({"file": {"header_line": 0}}, ["header_line", "0"]),
        ({"file": {"missing": "-"}}, ["missing", "'-'"]),
        ({"split": {"Count": ["balls"]}}, ["[split.'Count']", "into"]),
        ({"split": {"Count": {"into": ["balls", "strikes"], "separator": ""}}}, ["separator"]),
        ({"keep": ["hitter"]}, ["keep", "'hitter'"]),
        ({"keep": "Mood"}, ["keep", "'Mood'"]),
    ],
)
def test_a_slip_in_a_mapping_is_named_with_what_is_accepted(content: dict, words: list[str]) -> None:
    with pytest.raises(ReadingError) as error:
        load_mapping(content)
    for word in words:
        assert word in str(error.value)


def test_a_mapping_file_that_is_not_there_or_not_toml(tmp_path: Path) -> None:
    (tmp_path / "coach.toml").write_text("[columns\n", encoding="utf-8")
    (tmp_path / "latin.toml").write_bytes(b'[constants]\nlevel = "caf\xe9"\n')
    with pytest.raises(ReadingError, match=r"coach\.toml is not valid TOML"):
        load_mapping(tmp_path / "coach.toml")
    with pytest.raises(ReadingError, match=r"latin\.toml is not UTF-8"):
        load_mapping(tmp_path / "latin.toml")
    with pytest.raises(ReadingError, match=r"Nearest: coach\.toml"):
        load_mapping(tmp_path / "couch.toml")
    with pytest.raises(ReadingError, match="is a int"):
        load_mapping(7)  # type: ignore[arg-type]
    with pytest.raises(ReadingError, match="cannot be read"):
        load_mapping(tmp_path)


def test_every_shipped_mapping_loads_by_its_name() -> None:
    for name in shipped_mappings():
        assert load_mapping(name).columns


def test_a_ready_mapping_and_none_pass_through() -> None:
    ready = Mapping(name="ready")
    assert load_mapping(ready) is ready
    assert load_mapping(None) == Mapping()


def test_factors_turn_units_into_the_tables_own() -> None:
    rules = load_mapping({"units": {"speed_mph": "m/s", "extension_ft": "m", "launch_deg": "rad"}})
    # A mile is 1609.344 m and a foot 0.3048 m by definition.
    assert math.isclose(rules.factor("speed_mph"), 3600 / 1609.344, rel_tol=1e-14)
    assert math.isclose(rules.factor("extension_ft"), 1 / 0.3048, rel_tol=1e-14)
    assert math.isclose(rules.factor("launch_deg") * math.pi, 180, rel_tol=1e-14)
    assert rules.factor("height_in") == 1.0
    assert rules.factor("hitter") == 1.0
