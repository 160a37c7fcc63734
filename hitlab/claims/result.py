"""What checking a claim gives: the verdict, the chance, the evidence, and two sentences."""

from __future__ import annotations

import json
from dataclasses import dataclass, field, fields, replace
from typing import TYPE_CHECKING, Any, ClassVar, NamedTuple

import pandas as pd

from hitlab.claims import sentences
from hitlab.claims.verdicts import COUNTED, EVEN, Answer, Verdict
from hitlab.counting.events import per_words
from hitlab.counting.rates import rates_or_bounds
from hitlab.questions.question import About, Question
from hitlab.results import Note, Part, Result, Table
from hitlab.wording import capitalised, chance_text, level_words, percent, rate_text, signed_text

if TYPE_CHECKING:
    from hitlab.claims.rows import Rows

__all__ = [
    "ON_RECORD",
    "Claim",
    "Finding",
    "Verdict",
    "denies",
    "how_likely",
    "how_sure",
    "not_measured",
    "on_the_record",
    "points_away",
    "raw_difference",
]

_MUCH = 0.25  # farther from it, what everybody does is said to outweigh a record


ON_RECORD: dict[Verdict, str] = {"holds": "is", "does not hold": "is not", "open": "may be"}
"""The verb of a safe sentence about a record."""


def how_likely(verdict: Verdict, chance: float) -> str:
    """Return the verb of a safe sentence about one yes or no: ``is most likely``, ``may be``, ..."""
    if verdict == "open" and abs(chance - 0.5) < EVEN:
        return "may or may not be"
    if verdict == "open":
        return "may be" if chance >= 0.5 else "is more likely not"
    return "is most likely" if verdict == "holds" else "is most likely not"


def denies(verdict: Verdict, chance: float) -> bool:
    """Say whether there is a "not" in the verb that ``how_likely`` gives."""
    return verdict == "does not hold" or (verdict == "open" and chance < 0.5 + EVEN)


def how_sure(chance: float, denied: bool, of: str) -> str:
    """Return the chance in words; after a sentence that denies something, of what it is the chance."""
    return f"the chance {f'{of} ' if denied else ''}is {chance_text(chance)}"


def points_away(difference: float, chance: float) -> bool:
    """Say whether a record's difference points away from the side to which the chance leans."""
    return difference != 0 and (difference > 0) != (chance > 0.5) and abs(chance - 0.5) >= EVEN


def on_the_record(difference: float, chance: float, records: str, here: float, there: float) -> str:
    """Say what a comparison of two parts rests on, also where the hitter's own records point the other way.

    Parameters
    ----------
    difference
        Of the hitter's two observed rates.
    chance
        That the true one is positive.
    records
        Both, in words.
    here, there
        Everybody's rates in the two parts.
    """
    if not points_away(difference, chance):
        return f"judging by {records}"
    way = "higher" if difference > 0 else "lower"
    if records.endswith(")"):  # no brackets within brackets
        records = "; ".join(records[:-1].rsplit(" (", 1))
    own = f"although the hitter's own record is {way} ({records})"
    if (here > there) == (difference > 0):
        return own
    rates = f"everybody's rates, {rate_text(here)} against {rate_text(there)}"
    if abs(chance - 0.5) < _MUCH:
        return f"{own}; {rates}, point the other way"
    return f"{own}, because {rates}, outweigh it"


def not_measured(first: int, second: int) -> str:
    """Return behind two records, in brackets, how many balls of each were not measured; empty for none."""
    return f" ({first:,} and {second:,} balls not measured)" if first or second else ""


def raw_difference(difference: float, low: float, high: float, level: float) -> str:
    """Return a note on two observed rates alone, with the interval of their difference."""
    return (
        f"the raw difference is {signed_text(difference)}, with a {level_words(level)} hybrid-score interval "
        f"from {signed_text(low)} to {signed_text(high)}; it uses these two records alone"
    )


# A zero of these is news; of the rarer counts it is not.
_ALWAYS_SAID = ("whiffs", "fouls", "in_play", "hard")

# Columns of evidence tables that are rates, and those that are chances; how they are shown follows.
_RATES = (
    *("rate", "best_rate", "shrunk", "low", "high", "difference", "league_rate", "true_spread"),
    *("win_chance", "observed"),
)
_CHANCES = ("chance", "chance_best", "chance_top")


_MANY = 10_000  # from here numbers are hard to read without commas


_OF_RECORD: dict[Verdict, Answer] = {
    "holds": "record holds",
    "does not hold": "record does not hold",
    "open": "record open",
}
_UNTOLD = ("tempting", "where", "several_years")  # of what is saved: all stand in the sentences


class Finding(NamedTuple):
    """What a kind found, and how it is said; a record needs no more than its first four.

    Attributes
    ----------
    verdict, claim, say_in_full, tempting, chance, assumptions, would_change, notes
        As in :class:`Claim`.
    """

    verdict: Verdict
    claim: str
    say_in_full: str
    tempting: str
    chance: float | None = None
    assumptions: tuple[str, ...] = COUNTED
    would_change: str = "other counts: a record says what happened"
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Claim(Result):
    """A checked claim.

    Attributes
    ----------
    kind
        Kind of claim, a key of ``hitlab.questions.KINDS``.
    claim
        The claim in words, as it was understood.
    about
        ``underlying``: decided by the chance. ``record``: settled by counting, without a chance; open
        where balls that were not measured decide it.
    verdict
        ``holds`` at a chance of ``holds_at`` or more, ``does not hold`` at ``fails_at`` or less, else
        ``open``.
    chance
        The chance that the claim is true of the underlying rates; ``None`` for a record, and where more is
        unknown than a chance can allow for.
    holds_at, fails_at
        The two bounds of the verdict, from 0 to 1.
    evidence
        The numbers behind it, one row a hitter.
    say_in_full
        All that is safe to say, in one or two sentences; ``say`` is the one for air.
    tempting
        The sentence that says more than is known; ``avoid`` adds what is wrong with it.
    assumptions
        What has to be true for the chance to be right.
    would_change
        What would change the verdict.
    notes
        What a careful reader wants to know besides.
    numbers
        The single numbers of the answer, by name.
    became
        What became of every swing of the hitter, one row: pitches, swings, whiffs, fouls, ... Empty where the
        counts are not of pitches.
    beside
        The same event of the same hitter over each denominator: exposure, rate, rank among those compared,
        and who leads there.
    source, fingerprint
        Where the counts came from, and the first digits of their hash.
    question
        All that was asked, with the hitter and the days that were found: ``claim.question.ask(pitches)``
        answers it again.
    where
        How situation and days follow a rate in a sentence; empty for all pitches.
    several_years
        Whether the games are of several years, so that a day is said with its own.
    cannot_tell
        What the table cannot tell, in one line; empty where it can tell all.
    """

    TEXT_WIDTH: ClassVar[int | None] = 100

    kind: str
    claim: str
    about: About
    verdict: Verdict
    chance: float | None
    holds_at: float
    fails_at: float
    evidence: pd.DataFrame
    say_in_full: str
    tempting: str
    assumptions: tuple[str, ...]
    would_change: str
    notes: tuple[str, ...] = ()
    numbers: dict[str, float | int | str] = field(default_factory=dict)
    became: pd.DataFrame = field(default_factory=pd.DataFrame)
    beside: pd.DataFrame = field(default_factory=pd.DataFrame)
    source: str = ""
    fingerprint: str = ""
    question: Question = field(default_factory=lambda: Question(kind=""))
    where: str = ""
    several_years: bool = False
    cannot_tell: str = ""

    @classmethod
    def of(cls, question: Question, finding: Finding, *, untold: str = "", **told: Any) -> Claim:
        """Put a claim together from what was asked, what was found and the rest by name.

        Parameters
        ----------
        question
            With the subject that was found.
        finding
            What was found.
        untold
            Why the table cannot tell it; then no chance is given.
        told
            The other attributes.
        """
        q = question
        told |= finding._asdict()
        claim = cls(q.kind, about=q.about, holds_at=q.holds_at, fails_at=q.fails_at, question=q, **told)
        return claim.withheld(untold) if untold else claim

    def table(self) -> pd.DataFrame:
        """Return the evidence as a plain pandas frame."""
        return self.evidence.copy()

    @property
    def answer(self) -> Answer:
        """Which of the answers it got: its verdict, and whether that is of a chance or a record."""
        if self.about == "underlying":
            return "cannot be told" if self.chance is None else self.verdict
        return _OF_RECORD[self.verdict]

    @property
    def headline(self) -> str:
        """The claim with its verdict, in 15 words at most where names and situations allow."""
        return sentences.headline(self)

    @property
    def say(self) -> str:
        """A sentence for air, of 25 words at most, that is true when nothing else is said."""
        return sentences.say(self)

    @property
    def avoid(self) -> str:
        """The sentence that tempts, and what is wrong with it."""
        return sentences.avoided(self)

    @property
    def follow_up(self) -> str:
        """The honest answer to "so is it so, or not?"."""
        return sentences.follow_up(self)

    @property
    def verdict_words(self) -> str:
        """The verdict as a reply: ``Most likely``, ``Unlikely``, ``Open``; of a record ``It stands``."""
        return sentences.verdict_words(self)

    @property
    def verdict_line(self) -> str:
        """The verdict and what it rests on, in one line."""
        if self.chance is None:
            return f"{self.verdict.upper()} ({self.without_chance})"
        return (
            f"{self.verdict.upper()} (chance {self.chance_words}; "
            f"it holds from {level_words(self.holds_at)} and does not hold up to "
            f"{level_words(self.fails_at)})"
        )

    @property
    def is_bound(self) -> bool:
        """Whether the chance is a bound: after a choice by what was seen, it is so much at most."""
        return "chance_unlooked" in self.numbers

    @property
    def chance_words(self) -> str:
        """The chance as it is written, ``at most`` before one that is a bound; empty where there is none."""
        if self.chance is None:
            return ""
        most = "at most " if self.is_bound else ""
        return f"{most}{chance_text(self.chance, self.holds_at, self.fails_at)}"

    @property
    def without_chance(self) -> str:
        """Why there is no chance; empty where there is one."""
        if self.chance is not None:
            return ""
        if self.about != "record":
            return "this table cannot tell it"
        if self.verdict == "open":
            return "a record that balls of unknown hardness would settle"
        return "a record, settled by counting"

    def withheld(self, why: str) -> Claim:
        """Return the same question left open without a chance, because the table cannot tell it."""
        told = [name for name in self.evidence.columns if name not in _CHANCES]
        said = self.claim  # what begins with an article has its capital already
        said = f"the{said[3:]}" if said.startswith("The ") else said
        say_in_full = f"Whether {said} cannot be told from this table: {why}."
        return replace(
            self, verdict="open", chance=None, evidence=self.evidence[told], say_in_full=say_in_full
        )

    @property
    def became_words(self) -> str:
        """What became of every swing, in one sentence; empty where it is not known."""
        if self.became.empty:
            return ""
        row = self.became.iloc[0]
        parts = [
            f"{int(row[name]):,} {per_words(str(name), int(row[name]))}"
            for name in self.became.columns[3:]
            if row[name] or name in _ALWAYS_SAID
        ]
        when = f"{capitalised(self.where)}, " if self.where else ""
        saw = f"{row['hitter']} saw {int(row['pitches']):,} pitches and swung at {int(row['swings']):,}: "
        return when + saw + ", ".join(parts)

    @property
    def not_shown_words(self) -> str:
        """How many more were compared than the evidence shows; empty where it shows all."""
        more = int(self.numbers.get("compared", 0)) - len(self.evidence)
        return f"... and {more:,} more" if more > 0 else ""

    def evidence_for_people(self) -> pd.DataFrame:
        """Return the evidence with rates and chances as text."""
        return self._for_people(self.evidence)

    def beside_for_people(self) -> pd.DataFrame:
        """Return the denominators with rates as text."""
        return self._for_people(self.beside)

    @staticmethod
    def _for_people(table: pd.DataFrame) -> pd.DataFrame:
        shown = table.copy()
        for name in shown.columns:
            if name in _RATES:
                shown[name] = [rate_text(value) for value in shown[name]]
            elif name in _CHANCES:
                shown[name] = [chance_text(value) for value in shown[name]]
            elif name == "share_that_is_true":
                shown[name] = [percent(value) for value in shown[name]]
            elif pd.api.types.is_integer_dtype(shown[name]) and (shown[name] >= _MANY).any():
                shown[name] = [f"{value:,}" for value in shown[name]]
        if "least" in table.columns:  # the bounds of a rate stand in its place
            alone = table["rate"].isna() & table["least"].notna()
            estimates = [name for name in ("shrunk", "low", "high") if name in table.columns]
            shown["rate"] = rates_or_bounds(table)
            shown.loc[alone, estimates] = ""
            shown = shown.drop(columns=["least", "most", *(estimates if alone.all() else ())])
        return shown.rename(columns=lambda name: str(name).replace("_", " "))

    def to_dict(self) -> dict[str, Any]:
        """Return everything as plain Python values, fit for JSON."""
        names = [each.name for each in fields(self) if each.name not in _UNTOLD]
        told = {name: _plain(getattr(self, name)) for name in names}
        return told | {name: getattr(self, name) for name in ("headline", "say", "avoid", "follow_up")}

    def rows(self, most: int = 10) -> Rows | None:
        """Return the rows that the verdict rests on, as a picture draws them; nothing without rates.

        Parameters
        ----------
        most
            Rows at most; the subject is always among them.
        """
        from hitlab.claims.rows import rows_of

        return rows_of(self, most)

    def contents(self) -> list[Part]:
        """Return what text and HTML are made of: the verdict first, then what it rests on."""
        shown: list[Part] = [
            f"Claim: {self.claim}",
            f"Verdict: {self.verdict_line}",
            "",
            f"Safe to say: {self.say}",
            f"In full: {self.say_in_full}",
            f"Avoid: {self.avoid}",
            f"If asked again: {self.follow_up}",
            "",
            Table(self.evidence_for_people()),
        ]
        if self.not_shown_words:
            shown.append(self.not_shown_words)
        if self.became_words:
            shown += ["", Note(f"{self.became_words}.", "")]  # begins with the hitter's name
        if len(self.beside):
            shown.append(Table(self.beside_for_people()))
        return [
            *shown,
            "",
            f"What would change it: {self.would_change}",
            f"Assumed: {'; '.join(self.assumptions)}.",
            *((f"{capitalised(self.cannot_tell)}.",) if self.cannot_tell else ()),
            *(f"Note: {note}." for note in self.notes),
            f"Source: {self.source}; counts {self.fingerprint}",
        ]


def _plain(value: Any) -> Any:
    """Return a part of a claim as JSON has it."""
    if isinstance(value, pd.DataFrame):
        return json.loads(value.to_json(orient="records"))
    if isinstance(value, Question):
        return value.to_dict()
    return list(value) if isinstance(value, tuple) else value
