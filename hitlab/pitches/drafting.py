"""A mapping drafted from what stands in the files: columns, words and how often, guessed where that is safe.

Safe is what the trade writes in one way only, or what the cells leave no doubt about. All else stands there
with ``"?"`` on the right side and the nearest of our words beside it; such a word waits until somebody says
what it means.
"""

from __future__ import annotations

import re
import textwrap
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from hitlab.errors import ReadingError
from hitlab.pitches.blocks import OtherEncodingError
from hitlab.pitches.cells import Cells, judge, source_cells
from hitlab.pitches.chart_words import (
    BLANK_OR_EMPTY,
    NUMBERS_ON_BASE,
    OTHERS,
    SHAPES,
    TICKS,
)
from hitlab.pitches.dates import day_first, has_year, read_day, refuse_year
from hitlab.pitches.drafted_columns import (
    columns_by_cells,
    columns_by_name,
    half_innings,
    told_columns,
    unit_in,
)
from hitlab.pitches.filling import fill_merged, half_empty
from hitlab.pitches.games import line_of, proposed_games
from hitlab.pitches.heading_words import HEADINGS, NUMBERS
from hitlab.pitches.heading_words import plain as plain_heading
from hitlab.pitches.headings import Headings
from hitlab.pitches.identity import NOTHING
from hitlab.pitches.in_shapes import bases_told, half_inning
from hitlab.pitches.joining import one_column_each
from hitlab.pitches.mapping import TARGETS, UNDECIDED, Mapping, Split, fold, load_mapping
from hitlab.pitches.mending import DATE_FORMATS
from hitlab.pitches.origin import Bounds, Source
from hitlab.pitches.report import HALF_EMPTY
from hitlab.pitches.rosters import (
    Roster,
    counted_names,
    line_for,
    load_roster,
    near_names,
    number_in,
    told_apart,
)
from hitlab.pitches.schema import COLUMNS, NEEDED
from hitlab.pitches.sources import open_source
from hitlab.pitches.suggesting import KNOWN, TELLING, may_be, near_word
from hitlab.pitches.telling import TELLABLE, tell
from hitlab.pitches.wordforms import in_toml, many_rows
from hitlab.pitches.words_abroad import OTHERS_ABROAD
from hitlab.showing import shown

__all__ = ["UNDECIDED_LINE", "draft_mapping", "lacking"]

UNDECIDED_LINE = re.compile(r'^"[^\n]*" = "\?"  # ', re.MULTILINE)
"""A line of a draft that waits for somebody."""

_LEAP = 2000
_SEVERAL = 2  # words of one shape from which a pattern stands for them
_LONGEST = 200  # signs of a word; what is longer is a remark (a default)
_DECIMAL_COMMA = re.compile(r"[-+\N{MINUS SIGN}]?[0-9]+,[0-9]{1,2}")  # three digits may be thousands


@dataclass(slots=True)
class _Lines:
    """The lines of a draft."""

    lines: list[str] = field(default_factory=list)
    undecided: int = 0

    def say(self, *lines: str) -> None:
        self.lines += lines

    def remark(self, *texts: str) -> None:
        self.lines += [f"# {shown(text)}" for text in texts]  # a line break in a name would end it

    def section(self, name: str, note: str = "") -> None:
        self.lines.append("")
        self.remark(*([note] if note else []))
        self.lines.append(name)

    def pair(self, left: str, right: str, note: str) -> None:
        self.undecided += right == UNDECIDED
        told = right if right in ("true", "false") else in_toml(right)
        self.lines.append(f"{in_toml(left)} = {told}  # {shown(note)}")


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
        What it says of the files (``[file]``) and of their columns (``[columns]``, ``[split]``) is taken
        over, and the words of those columns are drafted; the rest of it is not.

    Returns
    -------
    str
        A TOML file with comments. What is not safe to guess has ``"?"`` on its right side, or stands behind
        ``#``: it waits until somebody decides it.

    Raises
    ------
    ReadingError
        Where there is nothing to read, the roster cannot be used, or the year has no use.

    Examples
    --------
    >>> import pandas as pd
    >>> sheet = pd.DataFrame({"Batter": ["Ada Frusk", "Bea Plome"], "What": ["swing and miss", "blip"]})
    >>> print(draft_mapping(sheet).partition("[words]")[2].strip())
    "blip" = "?"  # 1 row
    "swing and miss" = "whiff"  # 1 row
    """
    rules = replace(load_mapping(mapping), guess_header=True)
    players = load_roster(roster)
    if year is not None:
        refuse_year(year, None, "year=", typed=True)  # whether it has a use, the dates will tell
    try:
        origin = open_source(source, rules, Bounds(), aside=(roster,), whole=True)
        guessed = False
    except OtherEncodingError as error:
        if rules.encoding is not None:
            raise
        rules, guessed = replace(rules, encoding=error.encoding), True
        try:
            origin = open_source(source, rules, Bounds(), aside=(roster,), whole=True)
        except ReadingError as neither:
            raise ReadingError(
                f"{error.said}, and as {error.encoding} it cannot be read either. Save it as UTF-8, or give "
                'a mapping that says what it is in, such as [file] encoding = "shift_jis"'
            ) from neither
        if len(origin.parts) > 1:  # what others are in is not known by one
            raise
    also = {} if rules.columns else _also(origin)
    text = _Draft(one_column_each(origin, also), players, year, also, rules, guessed).text()
    load_mapping(tomllib.loads(text))  # whatever stands in the files, a draft is a mapping
    return text


def lacking(draft: str) -> list[str]:
    """Say which columns, without which no table can be read, no line of a draft names.

    Parameters
    ----------
    draft
        From :func:`draft_mapping`.
    """
    named = load_mapping(tomllib.loads(draft)).columns.values()
    return [name for name in NEEDED if name not in {one for targets in named for one in targets}]


class _Draft:
    def __init__(
        self,
        origin: Source,
        roster: Roster | None,
        year: int | None,
        also: dict[str, str],
        rules: Mapping,
        guessed: bool,
    ) -> None:
        self.origin, self.roster, self.year, self.also = origin, roster, year, also
        self.rules, self.guessed = rules, guessed
        self.cells = [
            source_cells(name, origin.table.column(place)) for place, name in enumerate(origin.columns)
        ]
        told, self.split = told_columns(origin, rules)
        counts = [_counted(cells) for cells in self.cells]
        found, counted = columns_by_name(origin.columns, counts, told, self.split)
        self.targets = found
        self.split |= dict.fromkeys(counted, Split(("balls", "strikes"), "-"))
        self.told = told
        self.more = {place: targets[1:] for place, targets in told.items() if targets[1:]}
        for place in half_innings(origin.columns, counts, {*found, *self.split}):
            if not {"inning", "half"} & {
                *found.values(),
                *(one for some in self.more.values() for one in some),
            }:
                self.targets[place], self.more[place] = "inning", ("half",)
        settled = {*found, *self.split, *told}
        free = [
            at
            for at, name in enumerate(origin.columns)
            if name and at not in settled and name not in origin.columns[:at]
        ]
        named = {*found.values(), *(one for some in told.values() for one in some)}
        by_cells, self.may_be = columns_by_cells(counts, free, COLUMNS.keys() - named, roster)
        self.targets |= by_cells
        merged, _, _ = fill_merged(origin, self._headings(), Mapping(), self.at)
        for place, cells in merged.items():
            self.cells[place] = cells
        self.counts = [_counted(cells) for cells in self.cells]

    def at(self, place: int) -> Cells:
        return self.cells[place]

    def text(self) -> str:
        out = _Lines()
        body = _Lines()
        self._columns(body)
        self._dates_and_file(body)
        self._games(body)
        self._words(body)
        out.remark(
            f"How {self.origin.name} becomes a table of pitches: {many_rows(self.origin.table.num_rows)}.",
            'Lines with "?" wait for you: write on the right side what the word means, or leave them; their',
            "rows are then set aside. A line behind # is a proposal: take the # away if it is right.",
            "What the pitch became, in our words, several with commas between them:",
            *textwrap.wrap(", ".join(TELLABLE), 100, initial_indent="  ", subsequent_indent="  "),
            f"{body.undecided} line(s) with a question mark.",
        )
        if self.origin.said:
            out.remark("How the files were read:", *(f"  {one}" for one in self.origin.said))
        out.say("")
        self._top(out)
        return "\n".join([*out.lines, *body.lines]) + "\n"

    def _headings(self) -> Headings:
        columns = {target: place for place, target in self.targets.items()}
        return Headings(tuple(self.origin.columns), columns, {}, (), {})

    def _top(self, out: _Lines) -> None:
        fillable, said = half_empty(self.origin, self._headings(), Mapping(), self.at, HALF_EMPTY)
        if fillable:
            out.remark(f"{'; '.join(said)}.", "Were they written once, and meant for the rows below?")
            out.say(f"# fill_down = {_listed(fillable)}")
        out.say(
            "# mend_slips = true  # 2 - 1 for 2-1, and words one letter off whose line with a question mark "
            "is taken out: where one reading alone is possible"
        )
        free = [
            name
            for place, name in enumerate(self.origin.columns)
            if name and place not in self.targets and place not in self.split
        ]
        if free:
            named = {*self.targets.values(), *(one for some in self.more.values() for one in some)}
            named |= {one for split in self.split.values() for one in split.into}
            open_ones = [name for name in COLUMNS if name not in named]
            out.remark(
                "What a column can be that no line names yet:",
                *textwrap.wrap(", ".join(open_ones), 100, initial_indent="  ", subsequent_indent="  "),
                "Named, its words are drafted by another run: --mapping this one --draft another.",
            )
            out.say(f"# keep = {_listed(free)}  # columns to carry along")

    def _columns(self, out: _Lines) -> None:
        out.section("[columns]")
        units = []
        for place, name in enumerate(self.origin.columns):
            counts = self.counts[place]
            often = ", ".join(repr(text) for text in list(counts)[:4])
            note = f"{len(counts):,} different: {often}" if counts else "always empty"
            target = self.targets.get(place)
            if name in self.origin.columns[:place]:
                out.remark(f"{in_toml(name)}: a second column of this name; rename it in the source. {note}")
            elif place in self.told or place in self.more:
                ours = self.told.get(place, (self.targets.get(place, ""), *self.more.get(place, ())))
                right = _listed(ours) if ours[1:] else in_toml(ours[0])
                out.say(f"{in_toml(name)} = {right}  # {shown(note)}")
            elif target is not None:
                out.pair(name, target, note)
            elif place in self.split:
                out.remark(f"{in_toml(name)}: taken apart below")
            elif place in self.may_be:
                proposed, why = self.may_be[place]
                out.remark(f"{in_toml(name)} = {in_toml(proposed)}  # {why}; {note}")
            elif name:
                may_be = f"not used; may be {NUMBERS[fold(name)]}" if fold(name) in NUMBERS else "not used"
                out.remark(f'{in_toml(name)} = "..."  # {may_be}; {note}')
        for place, target in self.targets.items():
            unit = unit_in(self.origin.columns[place], target)
            if unit and unit != COLUMNS[target].unit:
                units.append(f"{target} = {in_toml(unit)}")
        if units:
            out.section("[units]", "As the headings say.")
            out.say(*units)
        if self.also:
            out.section("[also]", "In another sheet or file the column is called so.")
            out.say(*(line_for(name, other) for name, other in self.also.items()))
        for place, split in self.split.items():
            out.section(f"[split.{in_toml(self.origin.columns[place])}]")
            out.say(f"into = {_listed(split.into)}", f"separator = {in_toml(split.separator)}")

    def _dates_and_file(self, out: _Lines) -> None:
        left_out = [one for one in self.origin.left_out if not one.meant]
        place = next((place for place, target in self.targets.items() if target == "date"), None)
        form: list[str] = []
        dates: list[str] = []
        if place is not None:
            form, dates = self._dates(self.counts[place])
        elif self.year is not None:
            dates = [f"# year = {self.year}  # no column here seems to hold the dates"]
        comma = self._decimal_comma()
        written = self._written()
        nothing = self._nothing()
        if left_out or form or comma or written or nothing:
            out.section("[file]")
            out.say(*written)
            out.remark(*(f"{one.name}: {one.reason}" for one in left_out))
        if left_out:
            out.say(f"# skip = {_listed(one.sheet or one.file for one in left_out)}")
        if nothing:
            out.say(f"missing = {_listed(nothing)}  # where numbers stand")
        if comma:
            out.say(f'decimal = ","  # as in {shown(repr(comma))}')
        out.say(*form)
        if dates:
            out.section("[dates]")
            out.say(*dates)

    def _written(self) -> list[str]:
        """Lines under [file] that say how a text is written, as it was told or found out."""
        rules = self.rules
        told = {"encoding": rules.encoding, "delimiter": rules.delimiter, "header_line": rules.header_line}
        lines = [
            f"{name} = {value if isinstance(value, int) else in_toml(value)}"
            for name, value in told.items()
            if value is not None
        ]
        if self.guessed:
            strange = (text for counts in self.counts for text in counts if not text.isascii())
            such = next(strange, next((name for name in self.origin.columns if not name.isascii()), ""))
            lines[0] += f"  # a guess, by which one cell is {shown(repr(such))}: are its letters right?"
        return lines

    def _nothing(self) -> list[str]:
        """Texts for nothing among the numbers, that stand for something in no other column."""
        numbers = {place for place, target in self.targets.items() if COLUMNS[target].kind == "number"}
        found = {text: None for place in numbers for text in self.counts[place] if fold(text) in NOTHING}
        words = {fold(text) for place in {*self.targets} - numbers for text in self.counts[place]}
        return [text for text in found if fold(text) not in words and fold(text) not in self.rules.missing]

    def _decimal_comma(self) -> str:
        """Give a number with a decimal comma, where numbers have one and none has a point."""
        numbers = [place for place, target in self.targets.items() if COLUMNS[target].kind == "number"]
        texts = [text for place in numbers for text in self.counts[place]]
        with_comma = [text for text in texts if _DECIMAL_COMMA.fullmatch(text)]
        return with_comma[0] if with_comma and not any("." in text for text in texts) else ""

    def _dates(self, counts: dict[str, int]) -> tuple[list[str], list[str]]:
        """Lines under [file] and [dates]."""
        told = [] if self.year is None else [f"year = {self.year}"]
        texts = [text for text in counts if read_day(text, None)[0] is None]
        if not texts:
            if self.year is not None:
                refuse_year(self.year, None, "year=", typed=self.origin.typed_days)
            return [], told
        read = {one: sum(read_day(text, one, _LEAP)[0] is not None for text in texts) for one in DATE_FORMATS}
        most = max(read.values())
        if not most and len(texts) < len(counts):
            return [f"# no date, and without one where it stands: {shown(repr(texts[0]))}"], told
        if not most:
            said = f"# the dates, such as {shown(repr(texts[0]))}, are in no usual form"
            return [said], [f"# {one}" for one in told]
        best = [one for one, times in read.items() if times == most]
        best = [one for one in best if has_year(one) == has_year(best[0])]
        days = {one: [read_day(text, one, _LEAP)[0] for text in texts] for one in best}
        same = all(days[one] == days[best[0]] for one in best)
        orders = {day_first(one) for one in best}
        decided = same or len(orders - {None}) < 2
        if decided:
            file = [f"date_format = {in_toml(best[0])}  # reads {most:,} of {len(texts):,} different dates"]
        else:
            either = " or ".join(in_toml(one) for one in best)
            file = [
                f"# {texts[0]!r} can be read in two ways, and no date here tells which: ask who wrote it.",
                f"# date_format = {either}",
            ]
        if has_year(best[0]):
            if self.year is not None:
                refuse_year(self.year, best[0], "year=", typed=self.origin.typed_days)
            return file, []
        if told:  # of no use before the form is decided
            return file, told if decided else [f"# {one}" for one in told]
        return file, ["# the dates tell no year: which was it?", "# year = 2031"]

    def _games(self, out: _Lines) -> None:
        halves = {fold(text): half_inning(text) for place in self.more for text in self.counts[place]}
        innings = {text: str(told[0]) for text, told in halves.items() if told is not None}
        rules = Mapping(words={"inning": innings})
        parts, why = proposed_games(self.origin, self._headings(), rules, self.at)
        if parts:
            out.section("[games]", f"Which pitches are of one game: {why}.")
            out.say(f"# {line_of(parts)}")

    def _words(self, out: _Lines) -> None:
        for place, target in self.targets.items():
            column = COLUMNS[target]
            if target == "hitter":
                self._names(out)
            elif target == "outcome":
                self._told(out, self.counts[place])
            elif column.kind in ("word", "flag"):
                self._plain(out, target, self.counts[place])
            if target == "inning" and self.more.get(place) == ("half",):
                self._halves(out, self.counts[place])
            else:
                for other in self.more.get(place, ()):
                    # One word may tell outcome and result: it stands under [words] already.
                    if COLUMNS[other].kind in ("word", "flag") and target != "outcome":
                        self._plain(out, other, self.counts[place])
        hard = [place for place, target in self.targets.items() if target == "hard"]
        if hard and set(map(fold, self.counts[hard[0]])) <= set(TICKS["true"]):
            out.section("[blanks]", "What does a blank mean on a ball that was met?")
            out.say("# hard = false  # not hard", '# hard = "unknown"  # nobody judged it')

    def _halves(self, out: _Lines, counts: dict[str, int]) -> None:
        told = {text: half_inning(text) for text in counts}
        ordered = sorted(counts, key=lambda text: (told[text] is None, told[text] or (0, ""), text))
        for at, target in enumerate(("inning", "half")):
            out.section(f"[words.{target}]")
            for text in ordered:
                one = told[text]
                guess = UNDECIDED if one is None else str(one[at])
                out.pair(text, guess, many_rows(counts[text]))

    def _names(self, out: _Lines) -> None:
        judged = {
            target: judge(target, self.at(place), Mapping())
            for place, target in self.targets.items()
            if target in ("hitter", "hitter_id", "club")
        }
        hitter, unknown = judged["hitter"], {}
        numbers = sum(number_in(name) is not None for name in counted_names(hitter))
        if self.roster is not None:
            found = self.roster.resolve(hitter, judged.get("club"))
            hitter, unknown = found.judged, found.unknown
        apart = told_apart(hitter, judged.get("hitter_id"), judged.get("club"), self.roster)
        near = near_names(counted_names(hitter), () if self.roster is None else self.roster.names, apart)
        strange = {name: many for name, many in unknown.items() if name not in {one for one, _, _ in near}}
        if not near and not strange and not (numbers and self.roster is None):
            return
        out.section("[words.hitter]", "Spellings that may be one name; nothing is merged unless you say so.")
        out.remark(*(f"{line_for(spelling, name)}  # {many_rows(many)}" for spelling, name, many in near))
        out.remark(
            *(f"{in_toml(name)}: not in the roster, {many_rows(many)}" for name, many in strange.items())
        )
        if numbers and self.roster is None:
            out.remark(f"{numbers:,} of the hitters are numbers: --roster turns them into names")

    def _told(self, out: _Lines, counts: dict[str, int]) -> None:
        by_shape: dict[str, list[str]] = {}
        for word in counts:
            shape = re.sub("[0-9]", "#", fold(word))
            plain = "#" not in word and "*" not in word  # which stand for something in a pattern
            if plain and "#" in shape and fold(word) not in KNOWN and not isinstance(tell(word), dict):
                by_shape.setdefault(shape, []).append(word)
        patterns = {
            shape: words
            for shape, words in by_shape.items()
            if (shape in SHAPES or len(words) >= _SEVERAL) and len(shape) <= _LONGEST
        }
        covered = {word for words in patterns.values() for word in words}
        alone: list[tuple[str, str, str]] = []
        out.section("[words]")
        for word, many in _often(counts):
            if word in covered or isinstance(tell(word), dict):
                continue
            guess = KNOWN.get(fold(word), "")
            line = word, guess or UNDECIDED, _noted(word, many, guess, TELLING)
            if len(word) > _LONGEST:
                out.remark(f"{many_rows(many)} of {word[:_LONGEST]!r}...: too long for a word")
            elif word in TARGETS:
                alone.append(line)  # [words.bunt] are the words of the column bunt
            else:
                out.pair(*line)
        ordered = sorted(patterns.items(), key=lambda item: -sum(counts[word] for word in item[1]))
        if alone or ordered:
            out.section("[patterns]", "# stands for one digit, * for anything; the first that fits counts.")
        for line in alone:
            out.pair(*line)
        for shape, words in ordered:
            many = sum(counts[word] for word in words)
            guess = SHAPES.get(shape, "")
            such = ", ".join(repr(word) for word in words[:3])
            out.pair(shape, guess or UNDECIDED, f"{_noted(shape, many, guess, TELLING)}, such as {such}")

    def _plain(self, out: _Lines, target: str, counts: dict[str, int]) -> None:
        column = COLUMNS[target]
        accepted = column.words or ("true", "false")
        tables = (OTHERS.get(target, {}), OTHERS_ABROAD.get(target, {}))
        known = {fold(word): ours for one in tables for ours, words in one.items() for word in words}
        own = {fold(word) for word in accepted}
        rest = [(word, many) for word, many in _often(counts) if fold(word) not in own]
        unsure: dict[str, str] = {}
        if target == "bases":
            several = any(len(re.findall("[0-9]", word)) > 1 for word in counts)
            unsure = BLANK_OR_EMPTY if several else NUMBERS_ON_BASE | BLANK_OR_EMPTY
        if rest:
            out.section(f"[words.{target}]", f"ours: {', '.join(accepted)}")
        for word, many in rest:
            guess = "" if fold(word) in unsure else known.get(fold(word), "")
            if target == "bases":
                guess = guess or bases_told(word)
            if len(word) > _LONGEST:
                out.remark(f"{many_rows(many)} of {word[:_LONGEST]!r}...: too long for a word")
            else:
                out.pair(
                    word, guess or UNDECIDED, _noted(word, many, guess, target, unsure.get(fold(word), ""))
                )


def _listed(names: Iterable[str]) -> str:
    return f"[{', '.join(map(in_toml, names))}]"


def _often(counts: dict[str, int]) -> list[tuple[str, int]]:
    return sorted(counts.items(), key=lambda item: (-item[1], item[0]))


def _noted(word: str, many: int, guess: str, target: str, unsure: str = "") -> str:
    note = many_rows(many)
    if guess:
        return note
    both = unsure or may_be(word, target)
    if both:
        return f"{note}; may be {both}"
    near = near_word(word, target)
    return f"{note}; nearest: {near}" if near else note


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
    plain = [plain_heading(name) for name in origin.columns]
    found: dict[str, str] = {}
    for target, spellings in HEADINGS.items():
        own = {*(spelling.strip(" ?#") for spelling in spellings), target.replace("_", " ")}
        units = {
            at: unit
            for at, one in enumerate(plain)
            if one in own and within[at] and (unit := unit_in(origin.columns[at], target)) is not None
        }
        first = next(iter(units.values()), "")
        places = [at for at, unit in units.items() if unit == first]  # a column is read in one unit
        taken: set[int] = set()
        if all(not within[one] & within[other] for one in places for other in places if one < other):
            for at in places:
                if taken:
                    found[origin.columns[at]] = origin.columns[places[0]]
                taken |= within[at]
    return found
