"""What people write over the columns of charts, and the unit behind it; from memory."""

from __future__ import annotations

import re

from hitlab.pitches.mapping import TARGETS
from hitlab.pitches.wordforms import fold
from hitlab.pitches.words_abroad import HEADINGS_ABROAD

__all__ = ["COUNT", "HEADINGS", "NUMBERS", "UNITS", "apart", "is_heading", "plain"]

HEADINGS: dict[str, tuple[str, ...]] = {
    "date": ("date", "day", "game date"),
    "game": ("game", "game no", "game number", "game id", "match"),
    "hitter": ("hitter", "batter", "who", "player", "name", "hitter name", "batter name", "at bat", "up"),
    "pitcher": ("pitcher", "thrower", "pitcher name", "on the mound"),
    "club": ("club", "team", "hitting team", "hitter team", "batting team", "batter team"),
    "hitter_side": ("side", "bats", "hits", "stands", "hitter side", "batter side", "b side", "l/r"),
    "pitcher_hand": ("throws", "arm", "hand", "pitcher hand", "p hand"),
    "plate_appearance": ("plate appearance", "pa", "turn", "at bat no", "pa no", "at bat"),
    "pitch": ("pitch no", "pitch number", "pitch of pa", "pitch #", "ball no"),
    "inning": ("inning", "inn", "in", "ing"),
    "half": ("half", "top/bottom", "t/b", "top or bottom"),
    "outs": ("outs", "out", "o"),
    "bases": ("bases", "runners", "runners on", "men on", "on base", "baserunners", "on"),
    "balls": ("balls", "b"),
    "strikes": ("strikes", "s"),
    "pitch_kind": ("pitch type", "pitch kind", "type", "kind", "thrown", "pitch thrown", "pitch"),
    "speed_mph": ("speed", "mph", "velo", "velocity", "pitch speed", "pitch velo", "pitch velocity"),
    "exit_mph": (
        "exit speed",
        "exit velocity",
        "exit velo",
        "exit",
        "ev",
        "off the bat",
        "speed off the bat",
    ),
    "launch_deg": ("launch angle", "launch", "la"),
    "outcome": ("outcome", "result", "what", "what happened", "pitch result", "happened", "res", "call"),
    "hard": ("hard", "hard hit", "hit hard", "loud", "hard?", "hard contact"),
    "result": ("pa result", "at bat result", "ab result", "result of pa", "ended", "how it ended"),
    "bunt": ("bunt", "bunting", "bunt?"),
    "runs": ("runs", "rbi", "runs scored"),
    "clip": ("clip", "video", "film"),
}
HEADINGS = {name: (*words, *HEADINGS_ABROAD.get(name, ())) for name, words in HEADINGS.items()}
"""Names that people write over columns; the first of our columns whose words fit takes a column."""

NUMBERS = dict.fromkeys(
    ("#", "no", "no.", "nr", "nr.", "number", "jersey", "num"),
    "hitter (the number on the back, with --roster), plate_appearance or pitch",
)
"""What a column of numbers can be whose name says no more, folded."""

COUNT = ("count", "b-s", "balls-strikes", "ct", "b/s", "conteo", "cuenta", "カウント")

UNITS: dict[str, tuple[str, ...]] = {
    "mph": ("mph", "mi/h"),
    "km/h": ("km/h", "kmh", "kph", "kmph"),
    "m/s": ("m/s", "mps"),
    "deg": ("deg", "degrees", "°"),
}
"""Units behind what stands over a column, and how they are written."""

_UNIT_WORDS = {word: unit for unit, words in UNITS.items() for word in words}
_UNIT_BEHIND = re.compile(rf"(?P<name>.*\S)[ _([]+(?P<unit>{'|'.join(map(re.escape, _UNIT_WORDS))})[)\] .]*")


def plain(name: str) -> str:
    """Give what stands over a column in the form in which it is compared: without its unit, folded.

    Parameters
    ----------
    name
        As it stands.
    """
    return apart(fold(name))[0].strip(" .:?#").replace("_", " ")


def apart(name: str) -> tuple[str, str]:
    """Part what stands over a column from the unit behind it; a unit alone is a name.

    Parameters
    ----------
    name
        Folded.
    """
    found = _UNIT_BEHIND.fullmatch(name)
    return (found["name"], _UNIT_WORDS[found["unit"]]) if found else (name, "")


_KNOWN = {*COUNT, *TARGETS, *(word.strip(" ?#") for words in HEADINGS.values() for word in words)}
_KNOWN |= {name.replace("_", " ") for name in TARGETS}


def is_heading(text: str) -> bool:
    """Say whether people write such a text over a column.

    Parameters
    ----------
    text
        A cell.
    """
    return plain(text) in _KNOWN
