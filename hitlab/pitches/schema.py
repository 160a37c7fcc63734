"""The pitch table's columns, words and bounds: one row a pitch.

These are the project's own names. Every other file is mapped to them once, at reading.
Nothing here reads or counts; the reader, the tally and the season generator all take their
words from this page.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = [
    "BALL_OUTCOMES",
    "BASES",
    "COLUMNS",
    "CONTACT_OUTCOMES",
    "EITHER_OUTCOMES",
    "ENDING_OUTCOMES",
    "FAMILIES",
    "FILLABLE",
    "FIRST_YEAR",
    "GAME_PARTS",
    "KEY",
    "LAST_YEAR",
    "LENGTH_UNITS",
    "LEVELS",
    "NEEDED",
    "NOT_IN_PLAY_RESULTS",
    "OUTCOMES",
    "PITCH_KINDS",
    "RESULTS",
    "RUNNERS",
    "SCHEMA_VERSION",
    "STRIKE_OUTCOMES",
    "SWING_OUTCOMES",
    "TAKE_OUTCOMES",
    "THROWN_OUTCOMES",
    "TOUCHED_OUTCOMES",
    "Column",
]

SCHEMA_VERSION = 1
"""Written into the schema mark of saved tables; raised when a column changes its meaning."""

OUTCOMES = (
    "ball",
    "called strike",
    "whiff",
    "foul",
    "foul tip",
    "in play",
    "hit by pitch",
    "automatic ball",
    "automatic strike",
    "intentional ball",
    "catcher's interference",
    "no pitch",
)
"""What a pitch became. Only pitches thrown enter pitch denominators (see ``hitlab.counting.events``)."""

# The groups below follow the Official Baseball Rules, Definitions of Terms (from memory).

SWING_OUTCOMES = ("whiff", "foul", "foul tip", "in play")
"""The hitter swung, unless it was a bunt attempt: a bunt is a ball not swung at, whatever became of it."""

TAKE_OUTCOMES = ("ball", "called strike", "hit by pitch")
"""The hitter could have swung and did not."""

THROWN_OUTCOMES = (*SWING_OUTCOMES, *TAKE_OUTCOMES, "catcher's interference")
"""A pitch was thrown at which the hitter had a chance. Intentional balls are left out (common practice,
no source)."""

CONTACT_OUTCOMES = ("foul", "in play")
"""The bat met the ball. A foul tip is not among them: by rule it is a strike like one that was missed."""

TOUCHED_OUTCOMES = (*CONTACT_OUTCOMES, "foul tip", "catcher's interference")
"""The bat met something, so that the ball may have a speed off it."""

EITHER_OUTCOMES = ("catcher's interference", "no pitch")
"""The hitter may have swung: sources differ in whether they call these a swing."""

BALL_OUTCOMES = ("ball", "automatic ball", "intentional ball")
"""Add a ball."""

STRIKE_OUTCOMES = ("called strike", "whiff", "foul tip", "automatic strike")
"""Add a strike whatever the count; a foul adds one up to the second, and a bunt foul always."""

ENDING_OUTCOMES = ("in play", "hit by pitch", "catcher's interference")
"""End the plate appearance whatever the count."""

RESULTS = (
    "strikeout",
    "walk",
    "hit by pitch",
    "single",
    "double",
    "triple",
    "home run",
    "out",
    "double play",
    "fielder's choice",
    "error",
    "sacrifice fly",
    "sacrifice bunt",
    "catcher's interference",
)
"""How a plate appearance ended; stands on its last pitch only."""

NOT_IN_PLAY_RESULTS = ("strikeout", "walk", "hit by pitch", "catcher's interference")
"""Results without a ball in play."""

_MEMBERS = {
    "fastball": ("four-seam fastball", "sinker", "cutter"),
    "breaking": ("slider", "curveball"),
    "offspeed": ("changeup", "splitter", "knuckleball"),
}
FAMILIES = {family: (*kinds, family) for family, kinds in _MEMBERS.items()}
"""Families of pitch kinds; ``other`` belongs to none.

A family is a kind of its own where no more was seen: from the dugout hardly anybody tells a cutter from a
slider, but most tell a breaking ball from a fastball.
"""

PITCH_KINDS = (*(kind for kinds in _MEMBERS.values() for kind in kinds), *_MEMBERS, "other")

RUNNERS = {
    "empty": 0,
    "first": 1,
    "second": 1,
    "third": 1,
    "first second": 2,
    "first third": 2,
    "second third": 2,
    "full": 3,
}
"""How many runners each of :data:`BASES` are."""

BASES = tuple(RUNNERS)

FILLABLE = (
    *("game", "date", "hitter", "hitter_id", "club", "pitcher", "pitcher_id", "hitter_side", "pitcher_hand"),
    *("plate_appearance", "inning", "half", "outs", "level"),
)
"""Columns that have something to say on every pitch, and that people write once for several."""

GAME_PARTS = ("date", "file", "sheet", "inning")
"""What a game may be made of, beside columns of the source."""

KEY = ("game", "plate_appearance", "pitch")
"""Together they name one pitch, where all three are present."""

NEEDED = ("hitter", "outcome")

LENGTH_UNITS = {"in": 1.0, "ft": 12.0, "cm": 1 / 2.54, "m": 100 / 2.54}
"""Inches in one of the unit: the inch is 2.54 cm by definition."""

FIRST_YEAR = 1871
"""When the first league of professionals played (from memory); a pitch table of an earlier day is a slip."""

LAST_YEAR = 2100
"""Beyond it a year is a slip of the pen, too. Today is no bound: invented seasons may lie ahead of it."""

LEVELS = ("professional", "college", "high school", "youth")
"""Usual levels of play; others are accepted as they stand."""

Kind = Literal["text", "date", "whole", "number", "flag", "word"]


@dataclass(frozen=True, slots=True)
class Column:
    """One column of the pitch table.

    Attributes
    ----------
    name
        The column's name; the unit stands in it where there is one.
    kind
        ``text``, ``date`` (ISO), ``whole`` (int64), ``number`` (float64), ``flag``
        (boolean) or ``word`` (one of ``words``).
    meaning
        One line for people.
    words
        What a ``word`` column accepts; empty elsewhere.
    lowest, highest
        Accepted range of a ``whole`` or ``number`` column, both bounds included. Outside it a
        value is taken to be a slip of the pen or of the unit, never a feat.
    unit
        Unit in which the table holds the value, where there is one: ``mph``, ``ft``, ``in``, ``deg``.
    """

    name: str
    kind: Kind
    meaning: str
    words: tuple[str, ...] = ()
    lowest: float | None = None
    highest: float | None = None
    unit: str | None = None

    @property
    def accepted(self) -> str:
        """What the column accepts, in words fit for an error message."""
        if self.kind == "word":
            return "one of: " + ", ".join(self.words)
        if self.kind == "flag":
            return "true or false"
        if self.kind == "date":
            return f"a date as year-month-day from {FIRST_YEAR} to {LAST_YEAR}, such as 2031-05-04"
        if self.kind == "text":
            return "text"
        noun = "a whole number" if self.kind == "whole" else "a number"
        unit = f" {self.unit}" if self.unit else ""
        if self.lowest is not None and self.highest is not None:
            return f"{noun} from {self.lowest:g} to {self.highest:g}{unit}"
        if self.lowest is not None:
            return f"{noun} of {self.lowest:g} or more{unit}"
        return noun + (f" in{unit}" if unit else "")


_ALL = (
    Column("game", "text", "which game"),
    Column("date", "date", "the day the game began"),
    Column(
        "season", "text", "the season, where it is not the year of the date; begins with its year: 2030-31"
    ),
    Column("scheduled_innings", "whole", "innings the game was scheduled for", lowest=1, highest=20),
    Column("level", "text", "level of play: professional, college, youth, ..."),
    Column("hitter", "text", "the hitter's name"),
    Column("hitter_id", "text", "tells two hitters of one name apart; the name itself where absent"),
    Column("pitcher", "text", "the pitcher's name"),
    Column("pitcher_id", "text", "tells two pitchers of one name apart; the name itself where absent"),
    Column("club", "text", "the hitter's club"),
    Column(
        "hitter_side",
        "word",
        "right: hits right-handed, standing to the left as the catcher sees it",
        ("left", "right"),
    ),
    Column("pitcher_hand", "word", "the pitcher's throwing hand", ("left", "right")),
    Column("bat", "word", "kind of bat", ("wood", "certified non-wood")),
    Column("plate_appearance", "whole", "number of the plate appearance in the game", lowest=1, highest=999),
    Column("pitch", "whole", "number of the pitch in the plate appearance", lowest=1, highest=99),
    Column("inning", "whole", "inning", lowest=1, highest=99),
    Column("half", "word", "half of the inning", ("top", "bottom")),
    Column("outs", "whole", "outs before the pitch", lowest=0, highest=2),
    Column("bases", "word", "bases occupied before the pitch", BASES),
    Column("score_hitting", "whole", "runs of the hitter's club before the pitch", lowest=0, highest=199),
    Column("score_fielding", "whole", "runs of the other club before the pitch", lowest=0, highest=199),
    Column("balls", "whole", "balls before the pitch", lowest=0, highest=3),
    Column("strikes", "whole", "strikes before the pitch", lowest=0, highest=2),
    Column("pitch_kind", "word", "kind of pitch, spelled out", PITCH_KINDS),
    Column("speed_mph", "number", "speed at release", lowest=20, highest=120, unit="mph"),
    Column("extension_ft", "number", "release point in front of the rubber", lowest=0, highest=10, unit="ft"),
    Column(
        "inside_in",
        "number",
        "from the middle of the plate, positive toward the hitter",
        lowest=-120,
        highest=120,
        unit="in",
    ),
    Column("height_in", "number", "above the ground at the plate", lowest=-60, highest=180, unit="in"),
    Column(
        "zone_bottom_in",
        "number",
        "bottom of the strike zone for this hitter",
        lowest=6,
        highest=36,
        unit="in",
    ),
    Column(
        "zone_top_in", "number", "top of the strike zone for this hitter", lowest=24, highest=66, unit="in"
    ),
    Column("outcome", "word", "what the pitch became", OUTCOMES),
    Column(
        "check_swing",
        "flag",
        "the bat started and was held, or the hitter tried to hold it; a blank is none",
    ),
    Column("bunt", "flag", "a bunt attempt; a blank is none"),
    # A 0 is what programs write for what was not measured: as a speed it would be a ball not hit hard.
    Column("exit_mph", "number", "speed off the bat", lowest=1, highest=130, unit="mph"),
    Column("launch_deg", "number", "launch angle, positive upward", lowest=-90, highest=90, unit="deg"),
    Column(
        "spray_deg",
        "number",
        "direction off the bat; 0 is centre field, positive is the pull side",
        lowest=-180,
        highest=180,
        unit="deg",
    ),
    Column("foul_side", "word", "where a foul went", ("pull", "straight back", "opposite")),
    Column(
        "hard",
        "flag",
        "hit hard, as flagged in the source; a blank is not known, unless the mapping says what it means",
    ),
    Column("hard_source", "word", "who flagged it", ("radar", "eye")),
    Column("result", "word", "how the plate appearance ended; on its last pitch only", RESULTS),
    Column("runs", "whole", "runs scored on the pitch", lowest=0, highest=4),
    Column("clip", "text", "where the video of the pitch is: file and time code"),
)

COLUMNS: dict[str, Column] = {column.name: column for column in _ALL}
"""Every column by name, in the table's order."""
