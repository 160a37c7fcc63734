"""What an empty cell means in a column of ticks, which only whoever kept the sheet can say.

Where ``hard`` holds ticks for the hard balls and nothing for the others, a blank may be a ball that was
not hard or one that nobody judged. Taken for unknown, the ticks alone would be the known balls, and every
rate would be of hard balls among hard balls. So the reader asks, and does not guess.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from hitlab.pitches.cells import Judged
from hitlab.pitches.mapping import SWING, Mapping
from hitlab.pitches.schema import CONTACT_OUTCOMES

__all__ = ["blanks_beside_both", "said_of_swing_ticks", "settle_hard"]

_WORDS_SHOWN = 3


def blanks_beside_both(before: pd.Series, after: pd.Series, parts: list[str], part: np.ndarray) -> list[str]:
    """Say where blanks became not hard in a chart that writes it, beside one that only ticks the hard ones.

    Parameters
    ----------
    before, after
        The column ``hard`` of the rows kept, before its blanks were given a meaning and after.
    parts, part
        Names of the files and sheets, and the place among them of each row.
    """
    wrote = {
        place: set(before[part == place].dropna().astype(bool))
        for place in range(len(parts))
        if before[part == place].notna().any()
    }
    if not any(told == {True} for told in wrote.values()):
        return []
    became = (before.isna() & after.notna()).to_numpy()
    both = [place for place, told in wrote.items() if False in told]
    found = [(parts[place], int((became & (part == place)).sum())) for place in both]
    return [
        f"{name} says of balls that they were not hard, and {many:,} blank{'s' if many > 1 else ''} of it "
        "became not hard, too, as another chart's do ([blanks] hard = false). If a blank there is a ball "
        'that nobody judged, read it by itself, with [blanks] hard = "unknown".'
        for name, many in found
        if many
    ]


def settle_hard(
    frame: pd.DataFrame, judged: Judged, kept: np.ndarray, mapping: Mapping, source_column: str
) -> tuple[list[str], list[str]]:
    """Give the blanks of ``hard`` the meaning that the mapping says, in place; ask where it says none.

    Parameters
    ----------
    frame
        The rows kept; its column ``hard`` is changed where a blank means not hard.
    judged
        What the cells of ``hard`` became, of all rows.
    kept
        For each row of the source whether it is in ``frame``.
    mapping
        How the source is read.
    source_column
        Name of the column in the source.

    Returns
    -------
    tuple of list of str
        Sentences about what was assumed, and questions to whoever kept the sheet.
    """
    contact = frame["outcome"].isin(CONTACT_OUTCOMES).to_numpy(dtype=bool)
    blank = contact & _empty(judged)[kept] & frame["hard"].isna().to_numpy(dtype=bool)
    many = _balls(frame, blank)
    meaning = mapping.blanks.get("hard")
    if meaning == "false":
        frame.loc[blank, "hard"] = False
        became = f"{many} became false" if many else "no ball in play and no foul was blank"
        said = f"A blank in {source_column} means not hard, as the mapping says: {became}"
        return [f"{said}; on other pitches a blank says nothing."], []
    recorded = set(frame["hard"].dropna().astype(bool))
    speed = frame["exit_mph"] if "exit_mph" in frame else pd.Series(np.nan, index=frame.index)
    untold = blank & speed.isna().to_numpy()
    # A ball of known speed needs no flag. Fouls rarely have a speed and count only where the user asks, so
    # that theirs alone leave nothing open as long as balls are measured.
    in_play = bool((untold & (frame["outcome"] == "in play").to_numpy(dtype=bool)).any())
    measured = bool((contact & speed.notna().to_numpy()).any())
    one_sided = recorded == {True} and (in_play or (bool(untold.any()) and not measured))
    if meaning == "unknown":
        left = f"{many} stay unknown" if many else "no ball in play and no foul was blank"
        text = f"A blank in {source_column} was not judged, as the mapping says: {left}."
        if one_sided:
            text += " Nothing was ever recorded as not hard, so no rate of hard balls can be given."
        return [text], []
    if not one_sided:
        return [], []
    times = int((frame["hard"] == True).sum())  # noqa: E712  (missing is not true)
    where = "a mapping" if mapping == Mapping() else "the mapping"
    return [], [
        f"What does a blank in {source_column} mean? All that was ever written there is {_written(judged)}, "
        f"for hard ({times:,} time{'' if times == 1 else 's'}); {_balls(frame, untold)} "
        f"{'is' if untold.sum() == 1 else 'are'} blank. Until the mapping says it they stay unknown and no "
        f"rate of hard balls can be given, for nothing was recorded as not hard. Write in {where}:\n"
        "  [blanks]\n"
        "  hard = false      # a blank is a ball that was not hard\n"
        "or\n"
        "  [blanks]\n"
        '  hard = "unknown"  # a blank is a ball that nobody judged; then no rate of hard balls is given'
    ]


def said_of_swing_ticks(judged: Judged, kept: np.ndarray, source_column: str) -> list[str]:
    """Say that a swing flag of ticks alone is compared with the outcome on the ticked pitches only."""
    blank = int(_empty(judged)[kept].sum())
    values = judged.series()[kept]
    if not blank or set(values.dropna().astype(bool)) != {True}:
        return []
    pitches = "the pitch with a blank is" if blank == 1 else f"the {blank:,} pitches with a blank are"
    return [
        f"All that was ever written in {source_column} is {_written(judged)}, for a swing: {pitches} not "
        f'compared with the outcome. If a blank means no swing, write in the mapping: [words.{SWING}] "" = '
        "false"
    ]


def _empty(judged: Judged) -> np.ndarray:
    """For each row whether the cell is empty and no word of the mapping says what that means."""
    empty = np.array([text.strip() == "" for text in judged.cells.texts], dtype=bool)
    empty &= judged.values.isna().to_numpy(dtype=bool)
    return np.asarray(empty[judged.cells.codes])


def _balls(frame: pd.DataFrame, flag: np.ndarray) -> str:
    """Count balls in play and fouls in words; nothing where there is neither."""
    outcome = frame["outcome"].to_numpy()
    parts = []
    for word, one, more in (("in play", "ball in play", "balls in play"), ("foul", "foul", "fouls")):
        number = int((flag & (outcome == word)).sum())
        if number:
            parts.append(f"{number:,} {one if number == 1 else more}")
    return " and ".join(parts)


def _written(judged: Judged) -> str:
    """Quote the words that stand for true, the most frequent first."""
    times = np.bincount(judged.cells.codes, minlength=len(judged.cells.texts))
    true = judged.values.fillna(False).to_numpy(dtype=bool) & (times > 0)
    places = np.flatnonzero(true)[np.argsort(-times[true], kind="stable")]
    words = list(dict.fromkeys(judged.cells.texts[place].strip() for place in places))
    quoted = [f'"{word}"' for word in words[:_WORDS_SHOWN]]
    if len(words) > _WORDS_SHOWN:
        return ", ".join(quoted) + " and the like"
    return " and ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)
