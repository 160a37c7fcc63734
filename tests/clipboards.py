"""Charts as people keep them on clipboards: a season of the invented league written down, and spoiled.

Every row remembers what it was, so that a test can say of each row that was kept whether it is right.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
import pandas as pd

from hitlab.demonstration import demo_season
from hitlab.pitches.sources import checked_to_pandas

# What an assistant writes; the second word is that of another assistant.
OUTCOMES = {
    ("ball", ""): ("b", "ball"),
    ("called strike", ""): ("called strike", "looking"),
    ("whiff", ""): ("swing & miss", "missed"),
    ("foul", ""): ("foul", "foul ball"),
    ("foul tip", ""): ("foul tip", "tip"),
    ("called strike", "strikeout"): ("K look", "KL"),
    ("whiff", "strikeout"): ("K swing", "KS"),
    ("foul tip", "strikeout"): ("K tip", "strikeout foul tip"),
    ("ball", "walk"): ("BB", "walk"),
    ("intentional ball", "walk"): ("IBB", "intentional walk"),
    ("hit by pitch", "hit by pitch"): ("HBP", "plunked"),
    ("in play", "single"): ("1B", "base hit"),
    ("in play", "double"): ("2B", "double"),
    ("in play", "triple"): ("3B", "triple"),
    ("in play", "home run"): ("HR", "homer"),
    ("in play", "double play"): ("DP", "double play"),
    ("in play", "fielder's choice"): ("FC", "fielders choice"),
    ("in play", "error"): ("E6", "error"),
    ("in play", "sacrifice fly"): ("SF", "sac fly"),
    ("in play", "sacrifice bunt"): ("SAC", "sac bunt"),
    ("intentional ball", ""): ("int ball", "int ball"),
}
OUTS = ("GB 6-3", "F8", "GB 4-3", "L7", "F9", "GB 5-3", "P4")


@cache
def _whole() -> pd.DataFrame:
    table = checked_to_pandas(demo_season())[0]
    texts = {name: object for name, kind in table.dtypes.items() if kind == "category"}
    return table.astype(texts)


def season(rows: int) -> pd.DataFrame:
    """Pitches to the hitters of one club, in the order of play, each with its truth."""
    table = _whole()
    table = table[table["club"] == min(table["club"])].head(rows).reset_index(drop=True)
    table["result"] = table["result"].fillna("")
    return table[table["outcome"] != "catcher's interference"].reset_index(drop=True)


def word(outcome: str, result: str, other: bool, seed: int) -> str:
    """Write down what became of a pitch."""
    if result == "out":
        return OUTS[seed % len(OUTS)]
    return OUTCOMES[outcome, result][other]


def chart(pitches: pd.DataFrame, other: bool = False) -> pd.DataFrame:
    """Write pitches as one assistant does: names, dates without a year, one word for what happened."""
    days = pd.to_datetime(pitches["date"])
    told = zip(pitches["outcome"], pitches["result"], range(len(pitches)), strict=True)
    hard = pitches["exit_mph"].ge(95).fillna(False) & (pitches["outcome"] == "in play")
    return pd.DataFrame(
        {
            "Date": [f"{day.month}/{day.day}" for day in days],
            "Opp": pitches["pitcher"]
            .map(lambda name: "vs " + str(name).split()[-1][:3])
            .groupby(pitches["game"])
            .transform("first"),
            "Inn": pitches["inning"].astype(str),
            "Hitter": pitches["hitter"].astype(str),
            "Count": pitches["balls"].astype(str) + "-" + pitches["strikes"].astype(str),
            "Result": [word(*one[:2], other, one[2]) for one in told],
            "Hard": np.where(hard, "x", ""),
        }
    )


def workbook(path: Path, sheets: dict[str, pd.DataFrame], title: Callable[[str], str] | None = None) -> Path:
    """Write charts into a workbook, one sheet each, below a title and a blank row where one is asked for."""
    import xlsxwriter

    with xlsxwriter.Workbook(path, {"strings_to_numbers": False, "strings_to_formulas": False}) as book:
        for name, table in sheets.items():
            sheet = book.add_worksheet(name)
            top = 0
            if title is not None:
                sheet.write_string(0, 0, title(name))
                top = 2
            sheet.write_row(top, 0, list(table.columns))
            for at, row in enumerate(table.itertuples(index=False), top + 1):
                for column, cell in enumerate(row):
                    if cell != "":
                        sheet.write(at, column, cell)
    return path


def once(texts: pd.Series, of: list[pd.Series]) -> pd.Series:
    """Leave a column blank where it repeats the row above, as long as the others do, too."""
    same = np.ones(len(texts), dtype=bool)
    for one in (texts, *of):
        same &= one.astype(str).eq(one.astype(str).shift()).to_numpy(dtype=bool)
    return texts.mask(same, "")
