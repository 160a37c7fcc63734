"""The terms of the lessons: their forms, and where those that stand in no list of new words are explained.

What a term means stands in the lessons' sources; nothing here repeats it, save for terms that a lesson
explains in passing.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from hitlab.course.sources import CourseError, Source

__all__ = ["TERMS", "Explained", "Term", "explained"]

_NO_TERMS = {"Swing-and-hope", "Steady"}
"""Invented hitters, who are introduced as terms are."""

_LINE = re.compile(r"^- \*\*([^*]+)\*\*: (.+(?:\n {2,}.+)*)", re.M)


@dataclass(frozen=True, slots=True)
class Term:
    """One term.

    Attributes
    ----------
    name
        As the lessons write it.
    forms
        Other forms of the word, each found as it stands: plural, verb forms, other words for the same.
    phrases
        For a word that everybody uses in another sense, too ("count", "law"): the phrases in which it is the
        term. Then the bare word is looked for no more. Regular expressions.
    told
        Of a term that is explained in passing, or before the list of new words: some words of the cell that
        explains it.
    meaning
        Of a term that stands in no list of new words, or whose line there needs the lines beside it.
    lesson
        Number of the lesson that explains it first.
    """

    name: str
    forms: tuple[str, ...] = ()
    phrases: tuple[str, ...] = ()
    told: str = ""
    meaning: str = ""
    lesson: str = ""

    @property
    def anchor(self) -> str:
        """The term as a place in a page: ``true-rate``."""
        return re.sub(r"[^a-z0-9]+", "-", self.name.lower()).strip("-")

    @property
    def pattern(self) -> re.Pattern[str]:
        """What finds the term in a text, in any of its forms."""
        found = self.phrases or tuple(re.escape(form) for form in (self.name, *self.forms))
        return re.compile(rf"(?<![\w-])(?:{'|'.join(found)})(?![\w-])", re.I)


@dataclass(frozen=True, slots=True)
class Explained:
    """A term with its meaning and its place.

    Attributes
    ----------
    term
        The term.
    meaning
        In the lesson's own words.
    lesson, cell
        Number of the lesson that explains it first, and the cell's place among its cells.
    again
        Numbers of later lessons that list it among their new words.
    """

    term: Term
    meaning: str
    lesson: str
    cell: int
    again: tuple[str, ...] = ()


_OF_LESSONS: dict[str, tuple[Term, ...]] = {
    "00": (
        Term("swing", ("swings", "swinging", "swung"), told="(A *swing* is any try to hit the ball."),
        Term(
            "hard",
            ("hard-hit", "hard hit"),
            phrases=("hard-hit", "hits? it hard", "were hard", "hard (?:balls?|swings?)", "(?:is|are) hard"),
            told="It is *hard* if the ball",
            meaning="said of a ball that stays between the lines and leaves the bat at 95 miles an hour or "
            "more.",
        ),
        Term("mean", phrases=("(?:the|their|its|both|one|a|two) means?", "mean of")),
        Term("spread", ("spreads",), phrases=("(?:the|a|of|this|how wide a) spreads?", "spread of")),
        Term("variance", ("variances",)),
        Term("standard deviation", ("standard deviations",)),
        Term("correlation", ("correlations", "correlate", "correlates", "correlated")),
        Term("range", ("ranges",), told="That is a range, by hand."),
        Term(
            "posterior",
            ("posteriors",),
            meaning="what one believes after the data, where before them one believed something else.",
        ),
        Term(
            "rate",
            ("rates",),
            told="A *rate* is how often something happened",
            meaning="how often something happened, out of how many chances. .137 is 137 in a thousand.",
        ),
        Term("true rate", ("true rates",), told="(A *true rate* is what"),
    ),
    "01": (
        Term("whiff", ("whiffs", "whiffed")),
        Term("foul", ("fouls", "fouled", "foul ball", "foul balls")),
        Term(
            "foul tip",
            ("foul tips",),
            told="A foul tip only brushes the bat",
            meaning="a ball that only brushes the bat and is caught. It counts as a whiff.",
        ),
        Term("ball in play", ("balls in play", "in play"), told="per ball in play (a ball hit"),
        Term(
            "bunt",
            ("bunts", "bunted"),
            told="A bunt (the bat is held out",
            meaning="the bat is held out to let the ball drop. It is no swing.",
        ),
        Term(
            "check swing",
            ("check swings",),
            told="A **check swing** is one",
            meaning="a swing that the hitter tries to stop. Held in time it is none; gone too far it is one.",
        ),
        Term("denominator", ("denominators",)),
        Term("turn at bat", ("turns at bat",), told="A **turn at bat** (a *plate appearance*"),
        Term("plate appearance", ("plate appearances",), told="A **turn at bat** (a *plate appearance*"),
        Term(
            "called strike",
            ("called strikes",),
            told="a *called strike* if it was good",
            meaning="a good pitch that the hitter let go.",
        ),
        Term(
            "strike",
            phrases=("(?:two|three|no) strikes",),
            told="A whiff is a strike, too",
            meaning="a good pitch let go, a whiff, or a foul that is not the third. After three the hitter "
            "is out.",
        ),
        Term(
            "regular",
            ("regulars",),
            told="*hard-hit balls per ball in play, regulars* (those who play",
            meaning="a hitter who plays most days; each list says from how many swings or turns on. "
            "Who plays now and then is a part-timer.",
        ),
    ),
    "02": (
        Term(
            "at-bat",
            ("at-bats",),
            told="45 at-bats (turns at bat; a few kinds",
            meaning="a turn at bat; a few kinds, such as walks, are left out.",
        ),
        Term("sample", ("samples", "sample size")),
        Term("shrink", ("shrinks", "shrunk", "shrinking", "shrinkage")),
        Term(
            "half-weight size",
            ("half-weight sizes",),
            told="`m` is the **half-weight size**",
            meaning="so many swings that a hitter's own record and the mean weigh the same.",
        ),
        Term("interval", ("intervals",), told="of a rate it is mostly called an interval"),
        Term("leader", phrases=("leader", "leaders", "leader's"), told="the eight *leaders* (the best on"),
        Term(
            "within the noise",
            phrases=("within the noise", "the noise"),
            told="is *within the noise*.",
            meaning="said of a difference no larger than luck alone often makes it; lesson 6 works out how "
            "large that is.",
        ),
    ),
    "03": (
        Term("record", phrases=("as a record", "on the record", "a record is", "the record holds")),
        Term("underlying rate", ("underlying rates",)),
        Term("minimum", ("minimums",)),
        Term("bounds", phrases=("the bounds", "two bounds", "our bounds")),
        Term("radar", ("radars",), told="*radar* (a device that measures"),
        Term("observed rate", ("observed rates",), told="the *observed rate*, which is the record"),
        Term(
            "Wilson interval",
            ("Wilson intervals",),
            told="a *Wilson interval*, says what luck",
            meaning="what luck leaves possible for one record alone, by a formula that E. B. Wilson found in "
            "1927.",
        ),
        Term("breaking ball", ("breaking balls",), told="breaking balls (pitches that curve)"),
        Term(
            "cutter",
            ("cutters",),
            told="A *cutter* is a fast pitch",
            meaning="a fast pitch that bends a little at the end.",
        ),
    ),
    "04": (
        Term("level", phrases=("level of \\d+ %", "choose the level", "right level", "at a level")),
        Term("coverage", meaning="how often ranges made in one way really hold the truth."),
        Term("law", phrases=("(?:all|one|wrong|the|two) laws?",)),
        Term(
            "sigma",
            told="`σ` (sigma) how far they lie apart",
            meaning="in books: how far the true rates lie apart, as a standard deviation.",
        ),
    ),
    "05": (
        Term("contact", phrases=("contact",)),
        Term("excess", ("leader's excess",)),
        Term(
            "corrected rate",
            ("corrected rates",),
            told="Call that the *corrected rate*",
            meaning="a record pulled toward the mean, by its own weight: what to expect of the hitter.",
        ),
    ),
    "06": (
        Term("launch angle", ("launch angles", "launch"), told="(how steeply the ball leaves the bat) *than"),
        Term("attack angle", ("attack angles",)),
        Term("descent"),
        Term("inches under"),
        Term(
            "offset",
            ("offsets",),
            meaning="by how much the bat's middle is under the ball's at the moment of first touch, measured "
            "square to the hanging barrel.",
        ),
        Term(
            "in line with the pitch",
            told="we call that **in line with the pitch**",
            meaning="the bat goes up about as steeply as the pitch comes down, nearly back along its path.",
        ),
        Term(
            "droop",
            ("droops", "drooping"),
            told="**The barrel droops.**",
            meaning="how far the barrel hangs below the handle when it meets the ball, in degrees.",
        ),
        Term(
            "home run",
            ("home runs",),
            told="A *home run* (the ball flies over the fence",
            meaning="the ball flies over the fence. The hitter, and whoever stands on a base, runs home.",
        ),
        Term(
            "pop-up",
            ("pop-ups", "popped up"),
            told="a *pop-up* (nearly straight up",
            meaning="a ball that goes nearly straight up and is easily caught.",
        ),
        Term("exit speed", ("exit speeds",), told="(*Exit speed* is how fast"),
        Term("backspin", told="(*backspin*: the top of the ball"),
        Term("millisecond", ("milliseconds",), told="14 milliseconds (thousandths of a second)"),
        Term(
            "fair",
            phrases=(
                "fair (?:balls?|ground|share|of contact)",
                "(?:keeps?|stays?|kept|still be) .{0,20}fair",
            ),
            told="fair balls (those between the lines)",
        ),
        Term(
            "liner",
            ("liners", "line drive", "line drives"),
            told="up to 25 a liner",
            meaning="a ball that leaves the bat at a launch angle from 10 to 25 degrees (common practice, no "
            "source).",
        ),
    ),
    "07": (Term("carry", phrases=("the carry", "carries of", "a carry")), Term("drag"), Term("air density")),
    "08": (
        Term("release", phrases=("at release", "from release", "the release", "after release")),
        Term("pull side"),
        Term(
            "opposite side",
            phrases=("(?:the|to) opposite side",),
            told="The other is the opposite side.",
            meaning="the side of the field to which a late bat sends the ball.",
        ),
        Term("timing error", ("timing errors",)),
        Term(
            "timing window",
            phrases=("windows? in print", "widest (?:of \\d+ )?windows?"),
            told="We call that the **window**",
            meaning="how early or late a swing may be until a squarely hit ball goes foul.",
        ),
        Term("fastball", ("fastballs",), told="(*fastballs*, the fastest pitches)"),
    ),
    "09": (Term("odds", told="The *odds* here are how many"), Term("up and in")),
    "10": (
        Term(
            "exposure",
            told="(*Exposure* is the number of swings.)",
            meaning="the number of swings that a rate is out of.",
        ),
        Term(
            "likelihood ratio",
            told="with a *likelihood ratio*: how much",
            meaning="how much better one explanation fits what was seen than another.",
        ),
    ),
    "11": (
        Term("count", phrases=("(?:same|changed the|of the) count",), told="the same count* (of balls"),
        Term(
            "odds ratio",
            ("odds ratios",),
            told="(the *odds ratio*)",
            meaning="by what factor the odds are higher in one case than in another.",
        ),
        Term("placebo", ("placebos",)),
        Term(
            "p-value",
            ("p-values",),
            told="(a *p-value*)",
            meaning="the chance that luck alone makes a gap as large as the one seen, where there is none.",
        ),
        Term(
            "cut list",
            ("cut lists",),
            told="**cut list**",
            meaning="the pitches to pull video of, for a claim and against it.",
        ),
    ),
    "12": (
        Term("inning", ("innings",), told="the last inning (each side's turn to hit)"),
        Term("bases", phrases=("bases (?:full|empty)", "(?:second|third) base", "nobody on(?: base)?")),
        Term(
            "run",
            phrases=("one run", "runs behind", "chance of a run"),
            told="has scored a **run**",
            meaning="what a side scores when a hitter has gone round all bases, home at the end.",
        ),
        Term("walk", phrases=("walked", "even a walk", "a walk (?:pushes|would|does|wins)", "live on walks")),
        Term(
            "spot",
            phrases=("(?:this|which|such|each|these|a) spots?",),
            told="in this spot* (score, outs and runners",
        ),
        Term(
            "base-out state",
            phrases=("24 states", "states of outs and bases"),
            told="make 24 states",
            meaning="how many are out, and which bases have a runner: 24 in all.",
        ),
        Term(
            "sacrifice fly",
            told="On a **sacrifice fly**",
            meaning="a ball caught far out, while the runner on third runs home.",
        ),
        Term(
            "double play", ("double plays",), told="On a **double play**", meaning="two are put out at once."
        ),
        Term(
            "strikeout",
            ("strikeouts",),
            told="A *strikeout* is three strikes",
            meaning="three strikes: the hitter is out, and the ball goes nowhere.",
        ),
    ),
    "13": (
        Term("charter", ("charters",), told="An assistant, the *charter*"),
        Term("kappa"),
        Term("sensitivity"),
        Term("specificity"),
    ),
}

TERMS: tuple[Term, ...] = tuple(
    replace(term, lesson=number) for number, terms in _OF_LESSONS.items() for term in terms
)
"""All terms, in the order of the lessons."""


def explained(sources: list[Source], terms: tuple[Term, ...] = TERMS) -> list[Explained]:
    """Find each term's meaning, and the first cell that explains it.

    Raises
    ------
    CourseError
        Where a lesson lists a term that is not among ``TERMS``, or a term is explained nowhere, or first in
        another lesson than that under which it stands in ``TERMS``.
    """
    listed: dict[str, list[tuple[str, int, str]]] = {}
    for source in sources:
        for place, cell in enumerate(source.cells):
            if cell.kind == "markdown" and not cell.tags & {"plan", "slide"}:
                for name, meaning in _LINE.findall(cell.text):
                    where = (source.number, place, " ".join(meaning.split()))
                    listed.setdefault(name.strip(), []).append(where)
    unknown = listed.keys() - {term.name for term in terms} - _NO_TERMS
    if unknown:
        raise CourseError(f"{min(unknown)!r} is explained and not among the terms; add it to terms.py")
    return [_placed(term, sources, listed.get(term.name, [])) for term in terms]


def _placed(term: Term, sources: list[Source], listed: list[tuple[str, int, str]]) -> Explained:
    """Return a term with the place that its words name, else with the first list that has it."""
    places = [(number, place) for number, place, _ in listed]
    if term.told:
        places = [
            (source.number, place)
            for source in sources
            if source.number == term.lesson
            for place, cell in enumerate(source.cells)
            if cell.kind == "markdown" and not cell.tags & {"plan", "slide"}
            if " ".join(term.told.split()) in " ".join(cell.text.split())
        ]
    meaning = term.meaning or (listed[0][2] if listed else "")
    if not places or not meaning:
        raise CourseError(f"no cell explains {term.name!r}: neither a list of new words nor {term.told!r}")
    first = min(places)
    if first[0] != term.lesson:
        raise CourseError(f"lesson {first[0]} explains {term.name!r} first; put it there in terms.py")
    again = tuple(dict.fromkeys(number for number, _, _ in listed if number != first[0]))
    return Explained(term, meaning, first[0], first[1], again)
