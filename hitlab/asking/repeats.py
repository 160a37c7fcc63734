"""Words that only repeat what was understood: "hitters" of a list of hitters, the table's own year.

They are taken out and the rest is read by itself. It is taken for the claim only where the question that it
makes says all that they say; everywhere else they stand, and are asked back like any others.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from operator import itemgetter

from hitlab.asking.people import Known
from hitlab.asking.seasons import OF_A_DAY
from hitlab.questions.question import Question

__all__ = ["Repeated", "repeats"]


@dataclass(frozen=True, slots=True)
class Repeated:
    """A sentence without what only repeats.

    Attributes
    ----------
    rest
        The sentence without it.
    left_out
        What was taken out, as it was typed.
    tests
        Of each part that was taken out, whether a question says it.
    """

    rest: str
    left_out: str
    tests: tuple[Callable[[Question], bool], ...]

    def said_by(self, question: Question) -> bool:
        """Say whether a question says all that was taken out."""
        return all(test(question) for test in self.tests)


_DONE_TO_HITTERS = ("strikeouts", "walks", "whiffs")


def _whole_table(question: Question) -> bool:
    return not (question.since or question.until) and question.kind not in ("hot", "response", "spot")


def _hitters(question: Question) -> bool:
    return question.kind in ("leads", "top") and question.subject == "hitter" and not question.who


def _list_of_hitters(question: Question) -> bool:
    # "Who strikes out the most hitters" is said of pitchers.
    return question.kind == "top" and _hitters(question) and question.event not in _DONE_TO_HITTERS


def _of_those_facing(question: Question) -> bool:
    if question.kind in ("leads", "top", "ahead"):
        return False  # "More hitters than anyone" may be how many in all.
    return question.subject == "pitcher" and question.event in _DONE_TO_HITTERS


def _over_hitters(question: Question) -> bool:
    return question.kind == "together" or _hitters(question)


def _streak(question: Question) -> bool:
    return question.kind == "hot" and "stretch" not in question.options


_END = r"(?=\s*(?:[.?!,;:–—-]|$))"
_ROWS: tuple[tuple[str, Callable[[Question], bool]], ...] = (
    (r"\b(?:over|across|throughout|during|through) (?:the |this )?(?:whole |entire |full )?(?:season|year)\b",
     _whole_table),
    (r",? ?\b(?:across|over|among) (?:all (?:the )?|the )?(?:hitters|batters)\b,?|"
     r",? ?\b(?:at (?:the )?)?(?:hitter|batter)[ -]level\b", _over_hitters),
    (rf"(?<=\w )(?:hitters|batters)\b{_END}", _list_of_hitters),
    (r"(?:(?<=\bmore )|(?<=\bfewer )|(?<=\bless )|(?<=\bmost )|(?<=\bfewest )|(?<=\bleast )|(?<=\bmany ))"
     r"(?:hitters|batters|guys|people|folks)\b", _of_those_facing),
    (r"\b(?:(?:over|in) )?(?:these|the|his|her) (?:last|past|recent) (?:few |couple of )?games\b", _streak),
    (r",? ?\b(?:for )?(?:better or (?:for )?worse|up or down)\b(?:,? (?:i|we) (?:don't|do not|dont) "
     r"(?:care|mind)(?: which)?)?(?:,? just different\b)?,?",
     lambda question: question.direction == "either"),
    (r",? ?\band not (?:the )?other way (?:a)?round\b", lambda question: question.kind == "ahead"),
)  # fmt: skip
"""What may only repeat, and the questions that say it without."""


def repeats(sentence: str, known: Known) -> Iterator[Repeated]:
    """Return what a sentence is without words that may only repeat: without all of them, then without each.

    Examples
    --------
    >>> from datetime import datetime
    >>> days = (datetime(2031, 4, 1), datetime(2031, 6, 23))
    >>> known = Known(None, (), frozenset({"date"}), days=days)
    >>> [one.rest for one in repeats("best batting average 2031", known)]
    ['best batting average']
    """
    spans: list[tuple[int, int, Callable[[Question], bool]]] = []
    for pattern, said_by in (*_ROWS, *_year(known)):
        for found in re.finditer(pattern, sentence, re.IGNORECASE):
            dated = found[0].strip().isdigit() and OF_A_DAY.search(sentence[: found.start()])
            crossing = any(begin < found.end() and found.start() < end for begin, end, _ in spans)
            if not dated and not crossing:
                spans.append((found.start(), found.end(), said_by))
    for taken in ([spans] if len(spans) > 1 else []) + [[one] for one in spans]:
        rest, left, at = "", [], 0
        for begin, end, _ in sorted(taken, key=itemgetter(0)):
            rest += f"{sentence[at:begin]} "
            left.append(sentence[begin:end].strip(" ,"))
            at = end
        rest = re.sub(r"\s+(?=[.,?!;:])", "", " ".join(f"{rest}{sentence[at:]}".split()))
        yield Repeated(rest, ", ".join(left), tuple(said_by for _, _, said_by in taken))


def _year(known: Known) -> tuple[tuple[str, Callable[[Question], bool]], ...]:
    """Return the row of the only year of a table; none where there are several, or no days."""
    if known.days is None or known.days[0].year != known.days[1].year:
        return ()
    year = known.days[0].year
    return ((rf"\b(?:(?:in|of|for|during) )?(?:the )?{year}(?: season)?\b(?![-/])", lambda question: True),)
