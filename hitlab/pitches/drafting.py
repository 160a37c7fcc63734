"""A mapping drafted from what stands in the files: columns, words and how often, guessed where that is safe.

Safe is what the trade writes in one way only, or what the cells leave no doubt about. All else stands there
with ``"?"`` on the right side and the nearest of our words beside it; such a word waits until somebody says
what it means. The words of scorers' charts are from memory.
"""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from hitlab.pitches.cells import Cells, source_cells
from hitlab.pitches.dates import day_first, has_year, read_day
from hitlab.pitches.filling import HALF_EMPTY, half_empty
from hitlab.pitches.games import proposed_games
from hitlab.pitches.headings import Headings
from hitlab.pitches.mapping import UNDECIDED, Mapping, fold, load_mapping, nearest
from hitlab.pitches.mending import date_formats
from hitlab.pitches.origin import Bounds, Source
from hitlab.pitches.rosters import Roster, load_roster, near_names, number_in
from hitlab.pitches.schema import COLUMNS, FAMILIES, PITCH_KINDS
from hitlab.pitches.sources import open_source
from hitlab.pitches.telling import TELLABLE, tell

__all__ = ["draft_mapping"]

_HEADINGS: dict[str, tuple[str, ...]] = {
    "date": ("date", "day", "game date"),
    "game": ("game", "game no", "game number", "game id", "match"),
    "hitter": ("hitter", "batter", "who", "player", "name", "hitter name", "batter name", "at bat", "up"),
    "pitcher": ("pitcher", "thrower", "pitcher name", "on the mound"),
    "club": ("club", "team", "hitting team", "hitter team", "batting team"),
    "hitter_side": ("side", "bats", "hits", "stands", "hitter side", "batter side", "b side", "l/r"),
    "pitcher_hand": ("throws", "arm", "hand", "pitcher hand", "p hand"),
    "plate_appearance": ("plate appearance", "pa", "turn", "at bat no", "pa no"),
    "pitch": ("pitch no", "pitch number", "pitch of pa", "pitch #", "ball no"),
    "inning": ("inning", "inn", "in", "ing"),
    "half": ("half", "top/bottom", "t/b", "top or bottom"),
    "outs": ("outs", "out", "o"),
    "balls": ("balls", "b"),
    "strikes": ("strikes", "s"),
    "pitch_kind": ("pitch type", "pitch kind", "type", "kind", "thrown", "pitch thrown", "pitch"),
    "speed_mph": ("speed", "mph", "velo", "velocity", "pitch speed"),
    "exit_mph": ("exit speed", "exit velocity", "off the bat", "exit mph"),
    "outcome": ("outcome", "result", "what", "what happened", "pitch result", "happened", "res", "call"),
    "hard": ("hard", "hard hit", "hit hard", "loud", "hard?", "hard contact"),
    "bunt": ("bunt", "bunting", "bunt?"),
    "runs": ("runs", "rbi", "runs scored"),
    "clip": ("clip", "video", "film"),
}
"""Names that people write over columns; the first of our columns whose words fit takes a column."""

_COUNT = ("count", "b-s", "balls-strikes", "ct", "b/s")

_WORDS: dict[str, tuple[str, ...]] = {
    "ball": ("ball", "b", "ball in dirt", "ball outside", "ball inside", "ball low", "ball high"),
    "called strike": (
        *("called strike", "strike looking", "looking", "called", "look", "strike called", "taken strike"),
        *("strike taken", "took strike", "sl", "looking strike", "caught looking strike"),
    ),
    "whiff": (
        *(
            "whiff",
            "swing and miss",
            "swinging strike",
            "strike swinging",
            "swing miss",
            "swing & miss",
            "miss",
        ),
        *("swung and missed", "swung through", "swung through it", "s&m", "sw miss", "swing-miss", "missed"),
    ),
    "foul": ("foul", "foul ball", "fouled off", "fouled", "foul off", "fl"),
    "foul, pull": ("foul pull", "pull foul", "foul pull side", "fouled pull"),
    "foul, opposite": ("foul oppo", "foul opposite", "oppo foul", "foul the other way", "foul opp"),
    "foul, straight back": ("foul back", "foul straight back", "straight back", "foul straight"),
    "foul tip": ("foul tip", "tip", "tipped", "tipped into the mitt"),
    "whiff, strikeout": (
        *(
            "k swing",
            "k swinging",
            "ks",
            "k-s",
            "strikeout swinging",
            "struck out swinging",
            "k sw",
            "swing k",
        ),
        *("so swinging", "swinging k", "k (swinging)", "k swg"),
    ),
    "called strike, strikeout": (
        *("k look", "k looking", "kl", "k-l", "strikeout looking", "struck out looking", "ꓘ", "backwards k"),
        *("backward k", "looking k", "so looking", "k (looking)", "caught looking", "called k"),
    ),
    "foul tip, strikeout": ("k foul tip", "strikeout foul tip", "k tip"),
    "walk": ("walk", "bb", "walked", "base on balls", "ball four", "ball 4"),
    "intentional ball, walk": ("ibb", "intentional walk"),
    "hit by pitch": ("hbp", "hit by pitch", "hb", "hit batter", "plunked", "hit by the pitch"),
    "single": ("single", "1b", "base hit", "one-base hit", "1 base hit"),
    "double": ("double", "2b", "two-base hit", "two bagger"),
    "triple": ("triple", "3b", "three-base hit"),
    "home run": ("home run", "hr", "homer", "homerun"),
    "out": (
        *("out", "go", "groundout", "ground out", "grounded out", "fo", "flyout", "fly out", "flied out"),
        *("lineout", "line out", "lined out", "popout", "pop out", "popped out", "popup out", "pop up out"),
    ),
    "double play": ("double play", "dp", "gidp", "gdp", "ground into double play"),
    "fielder's choice": ("fc", "fielders choice", "fielder's choice"),
    "error": ("error", "roe", "reached on error", "e"),
    "sacrifice fly": ("sf", "sac fly", "sacrifice fly"),
    "sacrifice bunt, bunt": ("sac bunt", "sacrifice bunt", "sh", "sac"),
    "catcher's interference": ("ci", "catcher's interference", "catchers interference"),
    "in play": ("in play", "ip", "ball in play", "gb", "ground ball", "ld", "line drive", "fly ball"),
}
"""What the trade writes in one way only, from memory: what it tells -> the words."""

_SHAPES: dict[str, str] = {
    **dict.fromkeys(
        ("#-#", "#-#-#", "f#", "l#", "p#", "fo#", "lo#", "po#", "#u", "fb#", "fb #", "f-#"), "out"
    ),
    **dict.fromkeys(
        ("gb #-#", "go #-#", "gb#-#", "gb #", "ground out #-#", "f #", "l #", "p #", "gb #u"), "out"
    ),
    **dict.fromkeys(("fly #", "line #", "pop #", "fly out #", "line out #", "pop out #", "ld #"), "out"),
    **dict.fromkeys(("e#", "e #", "e-#", "error #", "roe e#"), "error"),
    **dict.fromkeys(("#-#-# dp", "dp #-#-#", "gb #-#-# dp", "#-# dp", "gb #-# dp", "l#-# dp"), "double play"),
    **dict.fromkeys(("fc #-#", "fc#", "fc #", "gb fc #-#", "fc #-"), "fielder's choice"),
    **dict.fromkeys(("sf#", "sf #", "sac fly #", "f# sf", "sf-#"), "sacrifice fly"),
}
"""Fielders by their numbers, as scorers write them (numbers by the Official Rules, from memory)."""

_KINDS: dict[str, tuple[str, ...]] = {
    "four-seam fastball": ("four-seam", "4-seam", "four seam", "4 seam", "four-seamer", "4s", "straight one"),
    "sinker": ("two-seam", "2-seam", "two seam", "2 seam", "2s", "sinking fastball"),
    "cutter": ("cut", "cut fastball"),
    "slider": ("slide", "sl"),
    "curveball": ("curve", "cb", "hook", "12-6"),
    "changeup": ("change", "change up", "change-up", "ch", "cu change"),
    "splitter": ("split", "split-finger"),
    "knuckleball": ("knuckle", "knuckler"),
}
_SIDES: dict[str, tuple[str, ...]] = {
    "left": ("l", "left", "lh", "lhh", "lefty", "lhp", "lhb"),
    "right": ("r", "right", "rh", "rhh", "righty", "rhp", "rhb"),
}
_HALVES: dict[str, tuple[str, ...]] = {"top": ("t", "top", "up"), "bottom": ("b", "bot", "bottom", "btm")}
_TICKS: dict[str, tuple[str, ...]] = {
    "true": ("x", "y", "yes", "✓", "✔", "1", "true", "*", "h", "hard"),
    "false": ("n", "no", "0", "false", "soft"),
}
_OTHERS: dict[str, dict[str, tuple[str, ...]]] = {
    "pitch_kind": _KINDS,
    "hitter_side": _SIDES,
    "pitcher_hand": _SIDES,
    "half": _HALVES,
    "hard": _TICKS,
    "bunt": _TICKS,
}
_AMBIGUOUS = {
    "fb": "a fly ball or a fastball",
    "f": "a foul or a fly",
    "k": "whiff, strikeout or called strike, strikeout",
    "so": "whiff, strikeout or called strike, strikeout",
    "s": "a called strike or a whiff",
    "strike": "called strike or whiff",
    "ss": "a swinging strike or the shortstop",
    "cs": "a called strike or caught stealing",
    "fastball": "four-seam fastball or sinker",
    "cu": "curveball or changeup",
}
_LEAP = 2000
_MOSTLY = 0.3  # of the rows of a column understood, for it to tell outcomes (a default)
_SEVERAL = 2  # words of one shape from which a pattern stands for them


@dataclass(slots=True)
class _Lines:
    """The lines of a draft."""

    lines: list[str] = field(default_factory=list)
    undecided: int = 0

    def say(self, *lines: str) -> None:
        self.lines += lines

    def section(self, name: str, note: str = "") -> None:
        self.lines += ["", *([f"# {note}"] if note else []), name]

    def pair(self, left: str, right: str, note: str) -> None:
        self.undecided += right == UNDECIDED
        self.lines.append(
            f"{_quoted(left)} = {_quoted(right) if right not in ('true', 'false') else right}  # {note}"
        )


def draft_mapping(source: Any, *, roster: Any = None, year: int | None = None, mapping: Any = None) -> str:
    """Draft a mapping from what stands in files.

    Parameters
    ----------
    source
        As for :func:`hitlab.read_pitches`.
    roster
        Likewise; with it near spellings of names are told.
    year
        Year of the dates, where they tell none.
    mapping
        Its part ``[file]`` says how the files are written, where that is not the usual way.

    Returns
    -------
    str
        A TOML file with comments. What is not safe to guess has ``"?"`` on its right side, or stands behind
        ``#``: it waits until somebody decides it.

    Raises
    ------
    ReadingError
        Where there is nothing to read, or the roster cannot be used.

    Examples
    --------
    >>> import pandas as pd
    >>> sheet = pd.DataFrame({"Batter": ["Ada Frusk", "Bea Plome"], "What": ["swing and miss", "blip"]})
    >>> print(draft_mapping(sheet).partition("[words]")[2].strip())
    "blip" = "?"  # 1 row; nearest: foul tip
    "swing and miss" = "whiff"  # 1 row
    """
    rules = load_mapping(mapping)
    players = load_roster(roster)
    origin = open_source(source, rules, Bounds(), aside=(roster,), whole=True)
    also = _also(origin)
    if also:  # the same column under two names is one
        rules = replace(rules, also=rules.also | {fold(name): other for name, other in also.items()})
        origin = open_source(source, rules, Bounds(), aside=(roster,), whole=True)
    return _Draft(origin, players, year, also).text()


class _Draft:
    def __init__(self, origin: Source, roster: Roster | None, year: int | None, also: dict[str, str]) -> None:
        self.origin, self.roster, self.year, self.also = origin, roster, year, also
        self.cells = [
            source_cells(name, origin.table.column(place)) for place, name in enumerate(origin.columns)
        ]
        self.counts = [_counted(cells) for cells in self.cells]
        self.targets, self.split = _columns(origin.columns, self.counts)

    def at(self, place: int) -> Cells:
        return self.cells[place]

    def text(self) -> str:
        out = _Lines()
        body = _Lines()
        self._columns(body)
        self._dates_and_file(body)
        self._games(body)
        self._words(body)
        out.say(
            f"# How {self.origin.name} becomes a table of pitches: {self.origin.table.num_rows:,} rows.",
            '# Lines with "?" wait for you: write on the right side what the word means, or leave them; '
            "their rows",
            "# are then set aside. A line behind # is a proposal: take the # away if it is right.",
            "# What the pitch became, in our words, several with commas between them:",
            *textwrap.wrap(", ".join(TELLABLE), 100, initial_indent="#   ", subsequent_indent="#   "),
            f"# {body.undecided} line(s) with a question mark.",
            "",
        )
        self._top(out)
        return "\n".join([*out.lines, *body.lines]).replace("\r", " ") + "\n"

    def _headings(self) -> Headings:
        columns = {target: place for place, target in self.targets.items()}
        return Headings(tuple(self.origin.columns), columns, {}, (), {})

    def _top(self, out: _Lines) -> None:
        fillable, said = half_empty(self.origin, self._headings(), Mapping(), self.at, HALF_EMPTY)
        if fillable:
            out.say(f"# {'; '.join(said)}.", "# Were they written once, and meant for the rows below?")
            out.say(f"# fill_down = [{', '.join(_quoted(one) for one in fillable)}]")
        out.say(
            "mend_slips = true  # a word one letter off, 2 - 1 for 2-1: where one reading alone is possible"
        )
        free = [
            name
            for place, name in enumerate(self.origin.columns)
            if name and place not in self.targets and place not in self.split
        ]
        if free:
            out.say(f"# keep = [{', '.join(_quoted(name) for name in free)}]  # columns to carry along")

    def _columns(self, out: _Lines) -> None:
        out.section("[columns]")
        for place, name in enumerate(self.origin.columns):
            counts = self.counts[place]
            often = ", ".join(repr(text) for text in list(counts)[:4])
            note = f"{len(counts):,} different: {often}" if counts else "always empty"
            target = self.targets.get(place)
            if target is not None:
                out.pair(name, target, note)
            elif place in self.split:
                out.say(f"# {_quoted(name)}: taken apart below")
            elif name:
                out.say(f'# {_quoted(name)} = "..."  # not used; {note}')
        if self.also:
            out.section("[also]", "In another sheet or file the column is called so.")
            out.say(*(f"{_quoted(name)} = {_quoted(other)}" for name, other in self.also.items()))
        for place in self.split:
            out.section(f"[split.{_quoted(self.origin.columns[place])}]")
            out.say('into = ["balls", "strikes"]', 'separator = "-"')

    def _dates_and_file(self, out: _Lines) -> None:
        left_out = [one for one in self.origin.left_out if not one.meant]
        file: list[str] = []
        if left_out:
            names = ", ".join(_quoted(one.sheet or one.file) for one in left_out)
            file += [f"# {one.name}: {one.reason}" for one in left_out] + [f"# skip = [{names}]"]
        place = next((place for place, target in self.targets.items() if target == "date"), None)
        dates: list[str] = []
        if place is not None:
            more, dates = self._dates(self.counts[place])
            file += more
        if file:
            out.section("[file]")
            out.say(*file)
        if dates:
            out.section("[dates]")
            out.say(*dates)

    def _dates(self, counts: dict[str, int]) -> tuple[list[str], list[str]]:
        texts = [text for text in counts if read_day(text, None)[0] is None]
        if not texts:
            return [], []
        read = {
            one: sum(read_day(text, one, _LEAP)[0] is not None for text in texts) for one in date_formats()
        }
        most = max(read.values())
        if not most:
            return [f"# the dates, such as {texts[0]!r}, are in no usual form"], []
        best = [one for one, times in read.items() if times == most]
        best = [one for one in best if has_year(one) == has_year(best[0])]
        days = {one: [read_day(text, one, _LEAP)[0] for text in texts] for one in best}
        same = all(days[one] == days[best[0]] for one in best)
        orders = {day_first(one) for one in best}
        file = []
        if same or len(orders - {None}) < 2:
            file.append(
                f"date_format = {_quoted(best[0])}  # reads {most:,} of {len(texts):,} different dates"
            )
        else:
            either = " or ".join(_quoted(one) for one in best)
            file += [
                f"# {texts[0]!r} can be read in two ways, and no date here tells which: ask who wrote it.",
                f"# date_format = {either}",
            ]
        if has_year(best[0]):
            return file, []
        if self.year is not None:  # of no use before the form is decided
            return file, [f"{'' if file[0].startswith('date_format') else '# '}year = {self.year}"]
        return file, ["# the dates tell no year: which was it?", "# year = 2031"]

    def _games(self, out: _Lines) -> None:
        parts, why = proposed_games(self.origin, self._headings(), Mapping(), self.at)
        if parts:
            out.section("[games]", f"Which pitches are of one game: {why}.")
            out.say(f"# from = [{', '.join(_quoted(one) for one in parts)}]")

    def _words(self, out: _Lines) -> None:
        for place, target in self.targets.items():
            column = COLUMNS[target]
            if target == "hitter":
                self._names(out, self.counts[place])
            elif target == "outcome":
                self._told(out, self.counts[place])
            elif column.kind in ("word", "flag"):
                self._plain(out, target, self.counts[place])
        hard = [place for place, target in self.targets.items() if target == "hard"]
        if hard and set(map(fold, self.counts[hard[0]])) <= set(_TICKS["true"]):
            out.section("[blanks]", "What does a blank mean on a ball that was met?")
            out.say("# hard = false  # not hard", '# hard = "unknown"  # nobody judged it')

    def _names(self, out: _Lines, counts: dict[str, int]) -> None:
        if self.roster is not None:
            found = self.roster.resolve(_cells(counts), None, Mapping())
            names: dict[str, int] = {}
            for text, name in zip(counts, found.cells.texts, strict=False):
                names[name] = names.get(name, 0) + counts[text]
            near = near_names(names, self.roster.names)
            strange = [name for name in found.unknown if name not in {one for one, _, _ in near}]
        else:
            near, strange = near_names(counts), []
        numbers = [text for text in counts if number_in(text) is not None]
        if not near and not strange and not (numbers and self.roster is None):
            return
        out.section("[words.hitter]", "Spellings that may be one name; nothing is merged unless you say so.")
        for spelling, name, many in near:
            out.say(f"# {_quoted(spelling)} = {_quoted(name)}  # {_times(many)}")
        for name in strange:
            out.say(f"# {_quoted(name)}: not in the roster, {_times(found.unknown[name])}")
        if numbers and self.roster is None:
            out.say(f"# {len(numbers):,} of the hitters are numbers: --roster turns them into names")

    def _told(self, out: _Lines, counts: dict[str, int]) -> None:
        known = {fold(word): told for told, words in _WORDS.items() for word in words}
        by_shape: dict[str, list[str]] = {}
        for word in counts:
            shape = re.sub("[0-9]", "#", fold(word))
            if "#" in shape and fold(word) not in known and not isinstance(tell(word), dict):
                by_shape.setdefault(shape, []).append(word)
        patterns = {
            shape: words for shape, words in by_shape.items() if shape in _SHAPES or len(words) >= _SEVERAL
        }
        covered = {word for words in patterns.values() for word in words}
        out.section("[words]")
        for word, many in sorted(counts.items(), key=lambda item: (-item[1], item[0])):
            if word in covered or (isinstance(tell(word), dict)):
                continue
            guess = known.get(fold(word), "")
            out.pair(word, guess or UNDECIDED, _noted(word, many, guess, TELLABLE))
        if patterns:
            out.section("[patterns]", "# stands for one digit, * for anything; the first that fits counts.")
            ordered = sorted(patterns.items(), key=lambda item: -sum(counts[word] for word in item[1]))
            for shape, words in ordered:
                many = sum(counts[word] for word in words)
                guess = _SHAPES.get(shape, "")
                such = ", ".join(repr(word) for word in words[:3])
                out.pair(shape, guess or UNDECIDED, f"{_noted(shape, many, guess, TELLABLE)}, such as {such}")

    def _plain(self, out: _Lines, target: str, counts: dict[str, int]) -> None:
        column = COLUMNS[target]
        accepted = column.words or ("true", "false")
        known = {fold(word): ours for ours, words in _OTHERS.get(target, {}).items() for word in words}
        own = {fold(word) for word in accepted}
        rest = [(word, many) for word, many in counts.items() if fold(word) not in own]
        if rest:
            out.section(f"[words.{target}]", f"ours: {', '.join(accepted)}")
        for word, many in sorted(rest, key=lambda item: (-item[1], item[0])):
            guess = known.get(fold(word), "")
            out.pair(word, guess or UNDECIDED, _noted(word, many, guess, accepted))


def _noted(word: str, many: int, guess: str, accepted: Iterable[str]) -> str:
    note = _times(many)
    if guess:
        return note
    both = _AMBIGUOUS.get(fold(word))
    if both:
        return f"{note}; may be {both}"
    near = nearest(word, accepted)
    return f"{note}; nearest: {near}" if near else note


def _times(many: int) -> str:
    return f"{many:,} row{'' if many == 1 else 's'}"


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)  # TOML quotes as JSON does


def _counted(cells: Cells) -> dict[str, int]:
    """Distinct texts and how often each stands, the most frequent first; blanks left out."""
    times = np.bincount(cells.codes, minlength=len(cells.texts))
    counts: dict[str, int] = {}
    spelled: dict[str, str] = {}
    for text, many in zip(cells.texts, times.tolist(), strict=True):
        if text.strip() and many:
            first = spelled.setdefault(fold(text), " ".join(text.split()))
            counts[first] = counts.get(first, 0) + many
    return dict(sorted(counts.items(), key=lambda item: (-item[1], item[0])))


def _cells(counts: dict[str, int]) -> Cells:
    """Cells in which each text stands as often as it was counted."""
    many = np.array(list(counts.values()), dtype=np.int64)
    return Cells(np.repeat(np.arange(len(counts)), many), [*counts, ""])


def _also(origin: Source) -> dict[str, str]:
    """Columns of one meaning that never stand in one sheet: name -> the name that comes first."""
    if len(origin.parts) < 2:
        return {}
    part_of = origin.part_of(origin.rows)
    within: list[set[int]] = []
    for place, name in enumerate(origin.columns):
        cells = source_cells(name, origin.table.column(place))
        filled = np.array([text.strip() != "" for text in cells.texts], dtype=bool)[cells.codes]
        within.append(set(np.unique(part_of[filled]).tolist()))
    plain = [_plain(name) for name in origin.columns]
    found: dict[str, str] = {}
    for target, spellings in _HEADINGS.items():
        own = {*(spelling.strip(" ?#") for spelling in spellings), target.replace("_", " ")}
        places = [at for at, one in enumerate(plain) if one in own and within[at]]
        taken: set[int] = set()
        if all(not within[one] & within[other] for one in places for other in places if one < other):
            for at in places:
                if taken:
                    found[origin.columns[at]] = origin.columns[places[0]]
                taken |= within[at]
    return found


def _plain(name: str) -> str:
    return fold(name).strip(" .:?#").replace("_", " ")


def _tells_outcomes(counts: dict[str, int]) -> float:
    """Share of the rows whose word says what a pitch became, and not only how a plate appearance ended."""
    known = {fold(word) for told, words in _WORDS.items() for word in words}
    total = sum(counts.values())
    understood = sum(
        many for text, many in counts.items() if fold(text) in known or isinstance(tell(text), dict)
    )
    pitches = {
        fold(word) for told in ("ball", "called strike", "whiff", "foul") for word in (told, *_WORDS[told])
    }
    return understood / total if total and any(fold(text) in pitches for text in counts) else 0.0


def _columns(names: list[str], counts: list[dict[str, int]]) -> tuple[dict[int, str], list[int]]:
    """Which of ours each column fills, as far as its name and its cells say; and which holds the count."""
    plain = [_plain(name) for name in names]
    found: dict[int, str] = {}
    split: list[int] = []
    taken: set[str] = set()
    if "outcome" not in map(fold, names):
        # What a column tells counts for more than its name: "result" is what many call every pitch's.
        telling = [_tells_outcomes(one) for one in counts]
        best = max(range(len(names)), key=lambda at: telling[at], default=0)
        called = bool(names) and plain[best] in (*_HEADINGS["outcome"], "result")
        if names and (telling[best] >= _MOSTLY or (called and telling[best])):
            found[best] = "outcome"
            taken.add("outcome")
    for place, name in enumerate(names):  # ours as they stand
        if place in found:
            continue
        if fold(name) in COLUMNS and fold(name) not in taken:
            found[place] = fold(name)
            taken.add(fold(name))
    for target, spellings in _HEADINGS.items():
        if target in taken:
            continue
        for spelling in spellings:
            wanted = spelling.strip(" ?#")
            there = [at for at, one in enumerate(plain) if one == wanted and at not in found]
            if there and _FITS.get(target, _anything)(counts[there[0]]):
                found[there[0]] = target
                taken.add(target)
                break
    for place, name in enumerate(plain):
        if name in _COUNT and place not in found and not {"balls", "strikes"} & taken:
            split.append(place)
            break
    return found, split


def _anything(_: dict[str, int]) -> bool:
    return True


def _numeric(counts: dict[str, int]) -> bool:
    return bool(counts) and all(re.fullmatch(r"[0-9]+([.,][0-9]+)?", text) for text in counts)


def _few_numbers(counts: dict[str, int]) -> bool:
    good = sum(many for text, many in counts.items() if text.isdecimal() and int(text) < 100)
    return good > 0.8 * sum(counts.values())


def _kinds(counts: dict[str, int]) -> bool:
    known = {
        fold(word)
        for words in (*_KINDS.values(), tuple(_KINDS), PITCH_KINDS, tuple(FAMILIES))
        for word in words
    }
    known |= {"fb", "fastball", "cu"}
    return any(fold(text) in known for text in counts)


_FITS: dict[str, Callable[[dict[str, int]], bool]] = {
    "inning": _few_numbers,
    "outs": _few_numbers,
    "balls": _few_numbers,
    "strikes": _few_numbers,
    "plate_appearance": _few_numbers,
    "pitch": _few_numbers,
    "speed_mph": _numeric,
    "exit_mph": _numeric,
    "runs": _few_numbers,
    "pitch_kind": _kinds,
}
