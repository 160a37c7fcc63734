"""The mapping: how somebody else's pitch file is told to us, once, in a small TOML file.

Source words stand only on the left side of an ``=``; our own names and words on the right.
A worked example. The invented sheet of a coach::

    Day;Hitter;Bats;KMH;Side cm;Count;What;Loud;Swung;Mood
    04.05.;Ada Frusk;R;128,5;-12;1-2;swing and miss;;x;calm
    04.05.;Bea Plome;L;121,0;30;0-0;one-base hit;x;x;cross
    11.05.;Bea Plome;L;131,0;15;0-1;one-base hit;;x;calm

and the mapping that reads it::

    keep = ["Mood"]                       # columns to carry along as they stand

    [file]
    delimiter = ";"                       # found by itself where left out
    decimal = ","                         # "." where left out
    encoding = "cp1252"                   # "utf-8" where left out
    date_format = "%d.%m."                # year-month-day where left out
    header_line = 1                       # the line that holds the column names; found where left out
    missing = ["-", "n/a"]                # cells that mean "not known", in every column

    [columns]                             # source column = our column
    "Day" = "date"
    "Hitter" = "hitter"
    "Bats" = "hitter_side"
    "KMH" = "speed_mph"
    "Side cm" = "inside_in"
    "What" = ["outcome", "result"]        # one source column may fill two of ours
    "Loud" = "hard"                       # ticks for hard balls; see [blanks]
    "Swung" = "swing"                     # a flag used for checking only, not kept

    [dates]
    year = 2031                           # where date_format tells none

    [split."Count"]                       # one cell that holds several values
    into = ["balls", "strikes"]
    separator = "-"

    [words.outcome]                       # source word = our word; "" = missing
    "swing and miss" = "whiff"
    "one-base hit" = "in play"

    [words.result]
    "swing and miss" = ""
    "one-base hit" = "single"

    [words.hitter_side]
    "R" = "right"
    "L" = "left"

    [words.hard]
    "x" = true

    [words.swing]
    "x" = true
    "" = false                            # what an empty cell means in this column

    [blanks]                              # what an empty cell means on contact
    hard = false                          # not hard; "unknown": nobody judged it

    [units]                               # our column = the unit in the source
    speed_mph = "km/h"
    inside_in = "cm"

    [location]
    charted_from = "catcher"              # source is positive to the catcher's right
    spray_positive = "right field"        # "pull" (ours) where left out

    [constants]                           # our column = one value for the whole file
    level = "college"

    [count]
    from = "file"                         # "order": rebuild it from the order of the pitches

Columns that already carry our name need no line. Words are compared after trimming and
case-folding both sides, with single blanks, and whole: * and ? stand for themselves. Our own words
are always accepted as they stand.

What sheets charted by hand need besides, at the top and in sections of their own::

    fill_down = ["hitter", "inning"]      # written once for all rows below; not beyond a game or sheet
    mend_slips = true                     # where one reading alone is possible; each is listed

    [file]
    skip = ["Legend"]                     # sheets and files that hold no pitches

    [also]                                # in another sheet the column is called so = its name in [columns]
    "Batter" = "Hitter"

    [words]                               # one word that tells outcome, result and more; see telling.py
    "K swing" = "whiff, strikeout"
    "1B" = "single"

    [patterns]                            # the same, for words of one pattern: * anything, # one digit
    "GB #-#" = "out"

    [games]                               # what makes a game where no column says it
    from = ["date", "Opponent", "inning"] # also "sheet", "file"; "inning": new where it falls to 1

A ``"?"`` on the right side of ``[columns]``, words or patterns means: not known yet. Such a word waits, and
is not taken for a slip.
"""

from __future__ import annotations

import codecs
import os
import tomllib
from collections.abc import Iterable
from collections.abc import Mapping as AnyMapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal, get_args

from hitlab.errors import ReadingError
from hitlab.pitches.dates import has_day, is_readable, refuse_year
from hitlab.pitches.regular import regular
from hitlab.pitches.schema import COLUMNS, FILLABLE, LENGTH_UNITS
from hitlab.pitches.suggesting import TELLING, near_word
from hitlab.pitches.telling import TELLABLE, Telling, as_pattern, tell
from hitlab.pitches.wordforms import even, fold
from hitlab.showing import quoted, storable
from hitlab.writing import note_read

__all__ = [
    "SWING",
    "TARGETS",
    "UNDECIDED",
    "Mapping",
    "Split",
    "accepted_units",
    "even",
    "fold",
    "load_mapping",
    "nearest",
    "shipped_mappings",
]

SWING = "swing"
"""The target of a source's own swing flag: compared with the outcome, then left out of the table."""

TARGETS = (*COLUMNS, SWING)
"""What the right side of ``[columns]`` may name."""

View = Literal["catcher", "pitcher", "hitter"]
SprayPositive = Literal["pull", "right field", "left field"]
CountFrom = Literal["file", "order"]

# Miles an hour in one of the unit; the mile is 1609.344 m by definition.
_SPEED_UNITS = {"mph": 1.0, "km/h": 1 / 1.609344, "m/s": 3600 / 1609.344}
_ANGLE_UNITS = {"deg": 1.0, "rad": 57.29577951308232}

_SECTIONS = (
    "file",
    "columns",
    "words",
    "units",
    "location",
    "constants",
    "split",
    "count",
    "keep",
    "blanks",
    "dates",
    "also",
    "patterns",
    "games",
    "fill_down",
    "mend_slips",
)
# Columns in whose blanks two things can be meant. In the other flags a blank is false (see the schema).
_BLANKS = ("hard",)
# What a mapping may hold (defaults): none that anybody writes comes near.
_LARGEST = 1 << 20  # bytes
_DEEPEST = 5
_MOST_VALUES = 100_000
_LARGEST_NUMBER = 10**18
_LONGEST_TEXT = 10_000
_LONGEST_NAME = 200
_LAST_HEADER_LINE = 100_000
_FILE_KEYS = ("delimiter", "encoding", "decimal", "date_format", "header_line", "missing", "skip")
UNDECIDED = "?"
"""Right side of a line that somebody has still to decide."""


@dataclass(frozen=True, slots=True)
class Split:
    """One source column whose cells hold several of our columns.

    Attributes
    ----------
    into
        Our columns, in the order in which they stand in the cell.
    separator
        The text between them.
    """

    into: tuple[str, ...]
    separator: str


@dataclass(frozen=True, slots=True)
class Mapping:
    """A checked mapping; made by :func:`load_mapping`.

    Attributes
    ----------
    name
        Where it came from, for messages.
    columns
        Source column -> our columns that it fills.
    words
        Our column -> folded source word -> our word (``""``: missing).
    spelling
        Folded source word -> the word as the mapping spells it.
    units
        Our column -> unit in which the source holds it.
    constants
        Our column -> the value for the whole file, as text.
    split
        Source column -> how its cells are split.
    keep
        Source columns carried along unchanged.
    charted_from
        From where the source's sideways location was charted, positive to the right as seen
        from there; ``hitter``: already positive toward the hitter.
    spray_positive
        Where the source's spray angle is positive.
    blanks
        Our column -> what an empty cell means on contact: ``false`` or ``unknown``.
    count_from
        ``file``: balls and strikes as they stand; ``order``: rebuilt from the order of pitches.
    year
        Year of every date, where ``date_format`` tells none.
    delimiter, encoding, decimal, date_format, header_line, missing
        How the text file is written; see the module's example.
    skip
        Folded names of sheets and files that are not read.
    also
        Folded name of a column -> its name in ``columns``.
    telling
        Words and patterns that tell several things.
    games
        What a game is made of: ``date``, ``sheet``, ``file``, ``inning``, names of source columns.
    fill_down
        Our columns that are written once and meant for the rows below; ``game`` also stands for the columns
        that ``games`` names, where no column is the game.
    mend_slips
        Whether slips with one possible reading are mended.
    undecided
        Our column -> folded source words that somebody has still to decide: they wait, and are no slips.
    typed_days
        Whether days may stand as year-month-day beside ``date_format``, because a workbook holds them as
        days.
    guess_header
        Whether below what looks like a title the names of the columns are taken to stand although none is
        known; a draft is made so, and no file says it.
    """

    name: str = "no mapping"
    columns: dict[str, tuple[str, ...]] = field(default_factory=dict)
    words: dict[str, dict[str, str]] = field(default_factory=dict)
    spelling: dict[str, str] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)
    constants: dict[str, str] = field(default_factory=dict)
    split: dict[str, Split] = field(default_factory=dict)
    keep: tuple[str, ...] = ()
    charted_from: View = "hitter"
    spray_positive: SprayPositive = "pull"
    blanks: dict[str, str] = field(default_factory=dict)
    count_from: CountFrom = "file"
    delimiter: str | None = None
    encoding: str | None = None
    decimal: str = "."
    date_format: str | None = None
    year: int | None = None
    header_line: int | None = None
    missing: frozenset[str] = frozenset()
    skip: frozenset[str] = frozenset()
    also: dict[str, str] = field(default_factory=dict)
    telling: Telling = field(default_factory=Telling)
    games: tuple[str, ...] = ()
    fill_down: tuple[str, ...] = ()
    mend_slips: bool = False
    undecided: dict[str, frozenset[str]] = field(default_factory=dict)
    typed_days: bool = False
    guess_header: bool = False

    def spelled(self, word: str) -> str:
        """Give a folded source word as the mapping spells it."""
        return self.spelling.get(word, word)

    def factor(self, column: str) -> float:
        """Multiplier that turns the source's values of ``column`` into the table's unit."""
        given = self.units.get(column)
        own = COLUMNS[column].unit if column in COLUMNS else None
        if given is None or own is None:
            return 1.0
        accepted = accepted_units(column)
        return accepted[given] / accepted[own]


def nearest(word: str, among: Iterable[str]) -> str | None:
    """Spelling among ``among`` that is nearest to ``word``, or None where none is near."""
    from rapidfuzz import fuzz, process

    found = process.extractOne(fold(word), list(among), scorer=fuzz.WRatio, processor=fold, score_cutoff=60)
    return None if found is None else str(found[0])


def shipped_mappings() -> tuple[str, ...]:
    """Names of the mappings that come with hitlab, in alphabetical order."""
    return tuple(sorted(path.stem for path in _shipped_folder().glob("*.toml")))


def load_mapping(mapping: str | os.PathLike[str] | AnyMapping[str, Any] | Mapping | None) -> Mapping:
    """Read and check a mapping.

    Parameters
    ----------
    mapping
        Path of a TOML file, name of a mapping that comes with hitlab, the same keys as a
        dictionary, a ready :class:`Mapping`, or None for a source that carries our own names.

    Returns
    -------
    Mapping
        With every key, column, word and unit checked.

    Raises
    ------
    ReadingError
        For a file that is not there or is not TOML, and for every key, column, word or unit
        that is not accepted; the message names the nearest that is.

    Examples
    --------
    >>> rules = load_mapping({"columns": {"Who": "hitter"}, "words": {"outcome": {"K": "whiff"}}})
    >>> rules.columns, rules.words
    ({'Who': ('hitter',)}, {'outcome': {'k': 'whiff'}})
    """
    if mapping is None:
        return Mapping()
    if isinstance(mapping, Mapping):
        return mapping
    if isinstance(mapping, AnyMapping):
        return _Check("the mapping").whole(mapping)
    if not isinstance(mapping, str | os.PathLike):
        raise ReadingError(
            f"mapping={mapping!r} is a {type(mapping).__name__}. Accepted: the path of a TOML file, the name "
            "of a mapping that comes with hitlab, a dictionary, or None."
        )
    path = _find(mapping)
    content = read_toml(
        path,
        "mapping",
        'Each line is a section such as [columns] or a pair such as "Source name" = "hitter".',
        "Name the TOML file that says how the source's names become ours.",
    )
    return _Check(f"the mapping {path.name}").whole(content)


def read_toml(path: Path, what: str, lines: str, wanted: str) -> dict[str, Any]:
    """Read a small TOML file that somebody wrote by hand: UTF-8, with or without a mark in front.

    Parameters
    ----------
    path
        Where it is.
    what
        What it is called in messages.
    lines
        What its lines are, in a sentence.
    wanted
        What should be named where the file is too large to be one.

    Raises
    ------
    ReadingError
        Where it cannot be read, or is no TOML file.
    """
    try:
        with regular(path, what) as file:
            note_read(path)
            data = file.read(_LARGEST + 1)
    except (ReadingError, OSError) as error:
        raise ReadingError(f"The {what} cannot be read: {error}") from error
    if len(data) > _LARGEST:
        raise ReadingError(f"{path} is larger than {_LARGEST:,} bytes, and no {what} is. {wanted}")
    try:
        return tomllib.loads(data.decode("utf-8-sig").replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError as error:
        raise ReadingError(f"The {what} {path} is not valid TOML: {error}. {lines}") from error
    except UnicodeDecodeError as error:
        raise ReadingError(
            f"The {what} {path} is not UTF-8 (byte {error.start + 1}). Save it as UTF-8."
        ) from error
    except RecursionError as error:
        raise ReadingError(
            f"The {what} {path} has brackets within brackets beyond all measure. A {what} needs three."
        ) from error
    except ValueError as error:  # digits without end
        raise ReadingError(
            f"The {what} {path} has a number that is none of a {what}'s: {str(error)[:120]}."
        ) from error


def _shipped_folder() -> Path:
    return Path(__file__).resolve().parent.parent / "mappings"


def _find(mapping: str | os.PathLike[str]) -> Path:
    """Path of a mapping given by path or by the name of a shipped one."""
    path = Path(mapping)
    shipped = shipped_mappings()
    if isinstance(mapping, str) and mapping in shipped:
        return _shipped_folder() / f"{mapping}.toml"
    beside: list[str] = []
    try:
        os.stat(path)
        return path
    except FileNotFoundError:
        beside = [p.name for p in path.parent.glob("*.toml")] if path.parent.is_dir() else []
    except (OSError, ValueError):  # a path that none can have: too long, or with a NUL in it
        pass
    near = nearest(path.name, [*beside, *shipped]) if len(path.name) <= _LONGEST_NAME else None
    hint = f" Nearest: {near}." if near else ""
    ours = ", ".join(shipped) or "none"
    shown = str(path) if len(str(path)) <= _LONGEST_NAME else f"{str(path)[:_LONGEST_NAME]}..."
    raise ReadingError(f"There is no mapping {shown!r}.{hint} Mappings that come with hitlab: {ours}.")


def accepted_units(column: str) -> dict[str, float]:
    """Units in which a source may hold a column that has one: how much of the first is in one of each."""
    own = COLUMNS[column].unit
    if own == "mph":
        return _SPEED_UNITS
    return _ANGLE_UNITS if own == "deg" else LENGTH_UNITS


class _Check:
    """Checks the parts of one mapping and says in each error which mapping it was."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.spelling: dict[str, str] = {}
        self.undecided: dict[str, set[str]] = {}

    def fail(self, where: str, message: str) -> ReadingError:
        return ReadingError(f"In {self.name}, {where}: {message}")

    def known(self, where: str, given: str, accepted: Iterable[str], noun: str, of: str = "") -> str:
        """``given`` where it is accepted; else an error with the nearest that is, or what the word means."""
        accepted = tuple(accepted)
        if given in accepted:
            return given
        near = near_word(given, of) if of else nearest(given, accepted)
        hint = f" Nearest: {near!r}." if near else ""
        raise self.fail(where, f"{given!r} is not {noun}.{hint} Accepted: {', '.join(accepted)}.")

    def bounded(self, content: AnyMapping[str, Any]) -> None:
        """Refuse what no mapping holds, before any of it is looked at or shown."""
        waiting: list[tuple[str, Any, int]] = [("top level", content, 0)]
        seen = 0
        while waiting:
            where, value, depth = waiting.pop()
            seen += 1
            if depth > _DEEPEST or seen > _MOST_VALUES:
                what = (
                    f"more than {_MOST_VALUES:,} values" if depth <= _DEEPEST else "brackets within brackets"
                )
                raise self.fail(where, f"{what}, which no mapping needs.")
            if isinstance(value, AnyMapping):
                waiting += [(f"[{str(key)[:40]}]", one, depth + 1) for key, one in value.items()]
                waiting += [(where, key, depth) for key in value]
            elif isinstance(value, list | tuple):
                waiting += [(where, one, depth + 1) for one in value]
            elif isinstance(value, int) and abs(value) > _LARGEST_NUMBER:
                raise self.fail(where, "a whole number of more than 18 digits, which nothing here can be.")
            elif isinstance(value, str) and len(value) > _LONGEST_TEXT:
                raise self.fail(where, f"a text of {len(value):,} characters, which no word or name has.")
            elif isinstance(value, str) and storable(value) != value:
                raise self.fail(
                    where,
                    f"half of a character in {quoted(value)}, which no file can hold. In a table it is read "
                    f"as {storable(value)!r}: write it so.",
                )

    def section(self, content: AnyMapping[str, Any], key: str) -> AnyMapping[str, Any]:
        value = content.get(key, {})
        if not isinstance(value, AnyMapping):
            raise self.fail(
                f"[{key}]", f"found {value!r} where a section with name = value lines is accepted."
            )
        return value

    def text(self, where: str, value: object) -> str:
        if not isinstance(value, str):
            raise self.fail(where, f"found {value!r} where text in quotes is accepted.")
        return value

    def texts(self, where: str, value: object) -> tuple[str, ...]:
        if not isinstance(value, list | tuple) or not all(isinstance(item, str) for item in value):
            raise self.fail(where, f'found {value!r} where a list such as ["a", "b"] is accepted.')
        return tuple(value)

    def whole(self, content: AnyMapping[str, Any]) -> Mapping:
        """Check a whole mapping."""
        self.bounded(content)
        for key in content:
            self.known("top level", str(key), _SECTIONS, "a key of a mapping")
        columns = self.columns(self.section(content, "columns"))
        split = self.splits(self.section(content, "split"))
        constants = {
            self.known("[constants]", key, COLUMNS, "a column of the pitch table"): _as_text(value)
            for key, value in self.section(content, "constants").items()
        }
        self.once(columns, split, constants)
        file = self.file(self.section(content, "file"))
        location = self.section(content, "location")
        for key in location:
            self.known("[location]", key, ("charted_from", "spray_positive"), "a key here")
        count = self.section(content, "count")
        for key in count:
            self.known("[count]", key, ("from",), "a key here")
        words = self.all_words(self.section(content, "words"))
        return Mapping(
            name=self.name,
            columns=columns,
            words=words,
            spelling=self.spelling,
            units=self.all_units(self.section(content, "units")),
            constants=constants,
            split=split,
            keep=self.kept(content.get("keep", []), (*columns, *split)),
            charted_from=self.choice("[location] charted_from", location.get("charted_from", "hitter"), View),
            spray_positive=self.choice(
                "[location] spray_positive", location.get("spray_positive", "pull"), SprayPositive
            ),
            blanks=self.all_blanks(self.section(content, "blanks"), words),
            count_from=self.choice("[count] from", count.get("from", "file"), CountFrom),
            year=self.year(self.section(content, "dates"), file.get("date_format")),
            also=self.also(self.section(content, "also")),
            telling=self.telling(self.section(content, "words"), self.section(content, "patterns")),
            games=self.games(content),
            fill_down=self.filled(content.get("fill_down", [])),
            mend_slips=self.yes("mend_slips", content.get("mend_slips", False)),
            undecided={target: frozenset(those) for target, those in self.undecided.items()},
            **file,
        )

    def choice(self, where: str, value: object, accepted: Any) -> Any:
        return self.known(where, self.text(where, value), get_args(accepted), "accepted here")

    def columns(self, section: AnyMapping[str, Any]) -> dict[str, tuple[str, ...]]:
        found: dict[str, tuple[str, ...]] = {}
        for source, value in section.items():
            where = f"[columns] {source!r}"
            if value == UNDECIDED:
                continue
            targets = (value,) if isinstance(value, str) else self.texts(where, value)
            if not targets:
                raise self.fail(where, "an empty list. Name at least one of our columns, or drop the line.")
            for target in targets:
                self.known(where, target, TARGETS, "a column of the pitch table")
            found[str(source).strip()] = targets
        return found

    def splits(self, section: AnyMapping[str, Any]) -> dict[str, Split]:
        found: dict[str, Split] = {}
        for source, value in section.items():
            where = f"[split.{source!r}]"
            if not isinstance(value, AnyMapping) or "into" not in value:
                raise self.fail(where, 'it needs a line such as into = ["balls", "strikes"].')
            for key in value:
                self.known(where, key, ("into", "separator"), "a key here")
            into = self.texts(f"{where} into", value["into"])
            for target in into:
                self.known(f"{where} into", target, TARGETS, "a column of the pitch table")
            separator = self.text(f"{where} separator", value.get("separator", "-"))
            if not separator or len(into) < 2:
                raise self.fail(where, "it needs two or more columns and a separator that is not empty.")
            found[str(source).strip()] = Split(into, separator)
        return found

    def once(
        self,
        columns: dict[str, tuple[str, ...]],
        split: dict[str, Split],
        constants: dict[str, str],
    ) -> None:
        """Refuse two sources for one of our columns."""
        filled: dict[str, str] = {}
        pairs = [(f"column {source!r}", target) for source, targets in columns.items() for target in targets]
        pairs += [(f"split {source!r}", target) for source, one in split.items() for target in one.into]
        pairs += [("[constants]", target) for target in constants]
        for source, target in pairs:
            if target in filled:
                raise self.fail(
                    "[columns]",
                    f"{target} is filled twice, from {filled[target]} and from {source}. Keep one of them.",
                )
            filled[target] = source

    def all_words(self, section: AnyMapping[str, Any]) -> dict[str, dict[str, str]]:
        found: dict[str, dict[str, str]] = {}
        for target in section:
            if isinstance(section[target], str):
                continue  # a word that tells several things
            self.known("[words]", target, TARGETS, "a column of the pitch table")
            where = f"[words.{target}]"
            accepted = ("true", "false") if _kind(target) == "flag" else COLUMNS[target].words
            translated: dict[str, str] = {}
            for source, value in self.section(section, target).items():
                word = _as_text(value)
                if word == UNDECIDED:
                    self.undecided.setdefault(target, set()).add(fold(source))
                    continue
                if accepted and word:
                    word = self.known(
                        f"{where} {source!r}", fold(word), accepted, f"a word of {target}", target
                    )
                if fold(source) in translated and translated[fold(source)] != word:
                    raise self.fail(
                        where,
                        f"{source!r} is translated twice (capitals and blanks around a word make no "
                        f"difference): {translated[fold(source)]!r} and {word!r}. Keep one of them.",
                    )
                translated[fold(source)] = word
                self.spelling.setdefault(fold(source), source.strip())
            found[target] = translated
        return found

    def telling(self, words: AnyMapping[str, Any], patterns: AnyMapping[str, Any]) -> Telling:
        told: dict[str, dict[str, str]] = {}
        for word, value in words.items():
            if value == UNDECIDED:
                self.undecided.setdefault("outcome", set()).add(fold(word))
            elif isinstance(value, str):
                meant = self.told(f"[words] {word!r}", value)
                if told.setdefault(fold(word), meant) != meant:
                    raise self.fail("[words]", f"{word!r} is translated twice. Keep one of the lines.")
                self.spelling.setdefault(fold(word), word.strip())
        found = []
        for pattern, value in patterns.items():
            where = f"[patterns] {pattern!r}"
            form = as_pattern(pattern)
            if isinstance(form, str):
                raise self.fail(where, f"{form}.")
            decided = self.text(where, value) != UNDECIDED
            found.append((pattern, form, self.told(where, value) if decided else None))
        return Telling(told, tuple(found))

    def told(self, where: str, value: str) -> dict[str, str]:
        meant = tell(value) if value.strip() else {}
        if isinstance(meant, str):
            near = near_word(value, TELLING)
            hint = f" Nearest: {near!r}." if near and near != value else ""
            raise self.fail(where, f"{value!r}: {meant}.{hint} Words: {', '.join(TELLABLE)}.")
        return meant

    def also(self, section: AnyMapping[str, Any]) -> dict[str, str]:
        for name in section:
            self.spelling.setdefault(fold(name), name.strip())
        return {fold(name): self.text(f"[also] {name!r}", value).strip() for name, value in section.items()}

    def games(self, content: AnyMapping[str, Any]) -> tuple[str, ...]:
        section = self.section(content, "games")
        for key in section:
            self.known("[games]", key, ("from",), "a key here")
        return tuple(name.strip() for name in self.texts("[games] from", section.get("from", [])))

    def filled(self, value: object) -> tuple[str, ...]:
        names = self.texts("fill_down", value)
        return tuple(
            self.known("fill_down", name, FILLABLE, "a column that is filled down") for name in names
        )

    def yes(self, where: str, value: object) -> bool:
        if not isinstance(value, bool):
            raise self.fail(where, f"found {value!r} where true or false is accepted.")
        return value

    def all_blanks(self, section: AnyMapping[str, Any], words: dict[str, dict[str, str]]) -> dict[str, str]:
        found: dict[str, str] = {}
        for target, value in section.items():
            self.known("[blanks]", target, _BLANKS, "a column in whose blanks two things can be meant")
            where = f"[blanks] {target}"
            if value is not False and value != "unknown":
                raise self.fail(
                    where, f'found {value!r} where false (not hard) or "unknown" (not judged) is accepted.'
                )
            if "" in words.get(target, {}):
                raise self.fail(
                    where,
                    f'what an empty cell means is said twice, here and by "" in [words.{target}]. Keep one.',
                )
            found[target] = _as_text(value)
        return found

    def all_units(self, section: AnyMapping[str, Any]) -> dict[str, str]:
        with_unit = [name for name, column in COLUMNS.items() if column.unit]
        found: dict[str, str] = {}
        for target, value in section.items():
            self.known("[units]", target, with_unit, "a column that has a unit")
            where = f"[units] {target}"
            found[target] = self.known(
                where, self.text(where, value), accepted_units(target), "a unit for it"
            )
        return found

    def kept(self, value: object, used: tuple[str, ...]) -> tuple[str, ...]:
        names = tuple(dict.fromkeys(name.strip() for name in self.texts("keep", value)))
        for name in names:
            if name in TARGETS or name in used:
                raise self.fail(
                    "keep", f"{name!r} is already a column of the pitch table or mapped to one. Leave it out."
                )
        return names

    def year(self, section: AnyMapping[str, Any], date_format: str | None) -> int | None:
        for key in section:
            self.known("[dates]", key, ("year",), "a key here")
        if "year" not in section:
            return None
        year = section["year"]
        # Whether the days of a workbook make it of use, only the source can tell.
        refuse_year(year, date_format, f"In {self.name}, [dates] year", typed=True)
        return int(year)

    def file(self, section: AnyMapping[str, Any]) -> dict[str, Any]:
        for key in section:
            self.known("[file]", key, _FILE_KEYS, "a key here")
        found: dict[str, Any] = {}
        for key in ("delimiter", "encoding", "decimal", "date_format"):
            if key in section:
                found[key] = self.text(f"[file] {key}", section[key])
        if len(found.get("delimiter", ",")) != 1 or found.get("delimiter", ",") in '"\r\n':
            raise self.fail(
                "[file] delimiter", f"{found['delimiter']!r} is not one character such as ';' or '\\t'."
            )
        if not found.get("delimiter", ",").isascii():
            raise self.fail("[file] delimiter", f"{found['delimiter']!r} is not a plain ASCII character.")
        if found.get("decimal", ".") not in (".", ","):
            raise self.fail("[file] decimal", f"{found['decimal']!r} is neither '.' nor ','.")
        if "date_format" in found and not has_day(found["date_format"]):
            raise self.fail(
                "[file] date_format",
                f"{found['date_format']!r} tells no day. Such as '%d.%m.%Y' or '%m/%d/%y'.",
            )
        if "date_format" in found and not is_readable(found["date_format"]):
            raise self.fail(
                "[file] date_format",
                f"{found['date_format']!r} cannot be read back: it says something twice, or has a % sign and "
                "a letter that means nothing. Such as '%d.%m.%Y' or '%m/%d/%y'.",
            )
        if "encoding" in found:
            try:
                codecs.lookup(found["encoding"])
            except (LookupError, ValueError) as error:
                raise self.fail(
                    "[file] encoding", f"{found['encoding']!r} is not known. Such as 'utf-8' or 'cp1252'."
                ) from error
        if "header_line" in section:
            line = section["header_line"]
            if not isinstance(line, int) or isinstance(line, bool) or not 1 <= line <= _LAST_HEADER_LINE:
                raise self.fail(
                    "[file] header_line", f"{line!r} is not a whole number from 1 to {_LAST_HEADER_LINE:,}."
                )
            found["header_line"] = line
        if "skip" in section:
            names = self.texts("[file] skip", section["skip"])
            found["skip"] = frozenset(map(fold, names))
            for name in names:
                self.spelling.setdefault(fold(name), name.strip())
        if "missing" in section:
            words = self.texts("[file] missing", section["missing"])
            found["missing"] = frozenset(fold(word) for word in words)
            for word in words:
                self.spelling.setdefault(fold(word), word.strip())
        return found


def _kind(target: str) -> str:
    return "flag" if target == SWING else COLUMNS[target].kind


def _as_text(value: object) -> str:
    """Right side of a mapping line as the text that a cell would hold."""
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value).strip()
