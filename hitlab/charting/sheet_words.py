"""What stands on the sheets that pitches are charted on: columns, boxes, and what they mean in plain words.

The paper and the workbook take their words from here, and this page takes those of columns from
``hitlab.pitches.schema``: what is ticked on paper can be typed into the workbook as it is called, and what
the workbook offers the reader knows without a mapping.
"""

from __future__ import annotations

from dataclasses import dataclass

from hitlab.pitches.dates import EARLIEST
from hitlab.pitches.schema import COLUMNS, LAST_YEAR, OUTCOMES, SWING_OUTCOMES, TAKE_OUTCOMES

__all__ = [
    "BLOCK_LINES",
    "COLUMNS_WRITTEN",
    "GROUPS",
    "GUIDE",
    "KEY_LINES",
    "KEY_PAIRS",
    "MOST_INNINGS",
    "NAMED",
    "NUMBERS",
    "RULES",
    "YES_NO",
    "Box",
    "Group",
    "words_of",
]

YES_NO = ("yes", "no")
"""How a flag is written; the reader takes both as they are."""

MOST_INNINGS = 30
"""Innings of one game beyond which a number is a slip (a default): no game of a club goes on longer."""

COLUMNS_WRITTEN: dict[str, str] = {
    "date": f"The day the game began, as a date from {EARLIEST} to {LAST_YEAR}.",
    "game": "Which game, the same text on each of its pitches. It tells two games of one day apart.",
    "inning": f"The inning, 1 to {MOST_INNINGS}.",
    "half": "The half of the inning.",
    "hitter": "The hitter's whole name. Needed on every row.",
    "hitter_side": "The side that the hitter hits from in this plate appearance.",
    "club": "The hitter's club.",
    "pitcher": "The pitcher's whole name.",
    "pitcher_hand": "The hand that the pitcher throws with.",
    "plate_appearance": "Number of the plate appearance in the game, both clubs together: 1, 2, 3, ...",
    "pitch": "Number of the pitch in the plate appearance: 1, 2, 3, ...",
    "outs": "Outs before this pitch.",
    "balls": "Balls before this pitch.",
    "strikes": "Strikes before this pitch.",
    "pitch_kind": "The kind of pitch. Leave it blank where you could not tell.",
    "outcome": "What the pitch became. Needed on every row. A foul tip is off the bat straight into the "
    "catcher's hands, and caught.",
    "check_swing": "yes where the bat was started and held back, or the hitter tried to. A blank is a no.",
    "bunt": "yes where a bunt was tried. A bunt is no swing. A blank is a no.",
    "foul_side": "Of a foul: the hitter's pull side, straight back, or the opposite side.",
    "hard": "Of a foul or a ball in play: yes or no, by your own eyes at contact. Leave it blank only where "
    "you could not see it: a blank is not a no.",
    "result": "How the plate appearance ended, on its last pitch only.",
}
"""Columns of the workbook, in order, and what is written in them."""

NAMED = ("hitter", "pitcher")
"""Columns in which names of a roster are offered."""

NUMBERS: dict[str, tuple[int, int]] = {
    "inning": (1, MOST_INNINGS),
    "plate_appearance": (1, 999),
    "pitch": (1, 99),
    "outs": (0, 2),
    "balls": (0, 3),
    "strikes": (0, 2),
}
"""Columns of whole numbers, with the least and the most."""


def words_of(column: str) -> tuple[str, ...]:
    """Words that a column of the workbook offers; none where it takes anything else.

    Parameters
    ----------
    column
        Its name.

    Examples
    --------
    >>> words_of("half"), words_of("hard"), words_of("hitter")
    (('top', 'bottom'), ('yes', 'no'), ())
    """
    return YES_NO if COLUMNS[column].kind == "flag" else COLUMNS[column].words


@dataclass(frozen=True, slots=True)
class Box:
    """A box of the paper.

    Attributes
    ----------
    label
        What stands above it.
    column
        The column of the workbook that it is typed into.
    word
        What is typed there where it is ticked; empty for what is left blank, and for a number that is
        written into the box.
    """

    label: str
    column: str
    word: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Boxes that belong together; of those of one column one is ticked.

    Attributes
    ----------
    label
        What stands above all of them.
    boxes
        From left to right.
    """

    label: str
    boxes: tuple[Box, ...]


GROUPS = (
    Group("before", (Box("balls", "balls"), Box("strikes", "strikes"), Box("outs", "outs"))),
    Group(
        "pitch kind",
        (*(Box(kind, "pitch_kind", kind) for kind in ("fastball", "breaking", "offspeed", "other")),),
    ),
    Group(
        "what it became",
        tuple(Box(word, "outcome", word) for word in OUTCOMES if word in (*SWING_OUTCOMES, *TAKE_OUTCOMES)),
    ),
    Group("and", (Box("check swing", "check_swing", "yes"), Box("bunt", "bunt", "yes"))),
    Group(
        "foul",
        tuple(Box(word, "foul_side", word) for word in ("pull", "straight back", "opposite")),
    ),
    Group(
        "hard?",
        (Box("hard", "hard", "yes"), Box("not hard", "hard", "no"), Box("could not see", "hard")),
    ),
)
"""Boxes of a row on the paper, from left to right."""

BLOCK_LINES = ("One row a pitch, one block a hitter.", "After four pitches: the next block, same name.")
"""How the blocks of the paper are used."""

KEY_PAIRS = (
    (("before", "as it stood: write the numbers"), ("pitch kind", "as far as you could tell; else blank")),
    (("ball", "or called strike: not swung at"), ("whiff", "swung at and missed")),
    (("foul tip", "straight into the mitt, and held"), ("in play", "hit fair, or caught anywhere")),
    (("check swing", "held back, or meant to be"), ("bunt", "a bunt was tried; it is no swing")),
    (("foul", "only of a foul: where it went"), ("result", "in words: walk, single, out, ...")),
)
"""The key at the foot of the paper, two boxes a line: what one is called, and what it means."""

KEY_LINES = (
    ("hard?", "Of every foul and every ball in play one of the three: a blank is not a no."),
    ("rare", "Intentional ball, interference, no pitch, a new pitcher: write it across the row."),
)
"""What needs a line of its own there."""

RULES = (
    "Tick before you hear what others say, and before a speed is shown.",
    "Every swing counts: the misses and the fouls as much as the balls in play.",
    "A hard ball leaves the bat as fast as one met full: by your own eyes, at contact.",
)
"""The three rules that matter most."""

GUIDE = (
    "A swing is an attempt to hit the ball: a whiff, a foul, a foul tip, a ball in play. Chart every one.",
    "A check swing that the umpire lets pass is a ball or a called strike; one that went is a whiff, "
    "unless the bat met the ball. Either way tick “check swing” as well.",
    "A foul tip goes off the bat straight into the catcher's hands and is caught. Off the ground, the mask "
    "or the backstop it is a foul.",
    "A bunt is no swing. Tick “bunt” and what the pitch became; a bat pulled back in time tried none.",
    "Hard is told by eye at contact: the ball leaves the bat as fast as one met full. A line drive that is "
    "caught can be hard; a soft one that falls in is not.",
    "Decide before the ball comes down, and do not change a tick because of the play, the crowd or a radar.",
    "“Not hard” and “could not see” are two answers. Whoever looked away ticks the second; nobody guesses.",
    "Write the count as it stood before the pitch. A count that does not follow from the row above shows "
    "that a pitch is missing.",
    "A missed pitch is better left out and told than made up: write “missed one” across the row.",
    "Two chart alone, without a word between them, and compare afterwards: hitlab charters mine.xlsx "
    "yours.xlsx shows where they differ. Talk about those pitches, and chart the next game.",
)
"""How assistants chart alike: ten rules."""
