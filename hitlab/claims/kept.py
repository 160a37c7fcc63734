"""How often claims with such a chance came true, in leagues that were drawn: one line for each answer.

``kept.csv`` is condensed from the calibration report (``tests/reference/calibration.md``) by the command that
makes the report: over all laws of the truth that were tried, by kind of claim, number of hitters and tenth of
the stated chance. Where claims of a kind were less often right than stated under some law of the truth, a
second line says under which (``missed_words``): ``missed.csv``, by hand, whose figures stand in
``tests/reference/measured.md``, "Aims and what was reached".
"""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files
from math import inf
from typing import TYPE_CHECKING

from hitlab.claims.verdicts import Verdict
from hitlab.questions.question import Question
from hitlab.wording import percent

if TYPE_CHECKING:
    from hitlab.over_time.after_looking import LookedAt

__all__ = ["kept_words", "missed_words", "name_in_report"]

_FEWEST = 40  # of fewer, what came true is mostly luck
_TENTHS = 10
_BEFORE: LookedAt = "one day"  # chosen before looking, as in the report


@cache
def _rows_of(name: str) -> list[dict[str, str]]:
    text = files("hitlab.claims").joinpath(name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def name_in_report(question: Question, *, first: bool) -> str:
    """Return what the report calls a kind of question.

    Parameters
    ----------
    question
        What was asked.
    first
        Whether the subject has the highest observed rate of those compared.
    """
    q, less = question, question.direction == "less"
    variants = {
        "leads": "lowest" if less else "club" if q.club else "" if first else "anybody",
        "above": "league" if q.above_league else "",
        "split": "usual" if q.options.get("against") == "usual" else "",
        "more": "different" if q.direction == "either" else "",
    }
    variant = variants.get(q.kind, "")
    return f"{q.kind}, {variant}" if variant else q.kind


def _as_in_the_report(question: Question) -> bool:
    """Say whether a question is asked as those of the report were: of hitters, with nothing else known."""
    q = question
    known = q.prior or q.groups or q.covariates or q.traits or q.earlier or q.conventions.eye
    return q.subject == "hitter" and not known and q.options.get("looked_at", _BEFORE) == _BEFORE


def kept_words(question: Question, hitters: int, chance: float, *, first: bool = False) -> str:
    """Say how often such claims came true in leagues that were drawn; empty where that was not tried.

    Parameters
    ----------
    question
        What was asked.
    hitters
        How many were compared, or told the law.
    chance
        The stated one.
    first
        Whether the subject has the highest observed rate of those compared.
    """
    if not _as_in_the_report(question):
        return ""
    name = name_in_report(question, first=first)
    rows = {
        (int(row["hitters"]), int(row["tenth"])): row for row in _rows_of("kept.csv") if row["kind"] == name
    }
    if not rows:
        return ""
    near = min(
        {size for size, _ in rows}, key=lambda size: max(size / max(hitters, 1), max(hitters, 1) / size)
    )
    # Below is what above is not: the report has the one side.
    turned = question.direction == "less" and question.kind in ("above", "ahead", "split", "more")
    at = 1 - chance if turned else chance
    kept = rows.get((near, min(int(at * _TENTHS), _TENTHS - 1)))
    if kept is None or int(kept["number"]) < _FEWEST:
        return ""
    stated, came = (1 - float(kept[name]) if turned else float(kept[name]) for name in ("stated", "came"))
    many = int(kept["number"])
    return (
        f"in leagues of about {near} hitters that were drawn, {many:,} claims of this kind had a "
        f"chance near this one, {percent(stated)} on average, and {percent(came)} of them came true"
    )


def missed_words(question: Question, hitters: int, verdict: Verdict, *, first: bool = False) -> str:
    """Say where such claims were less often right than stated; empty where that was not found.

    Parameters
    ----------
    question
        What was asked.
    hitters
        How many told the law.
    verdict
        The one given.
    first
        Whether the subject has the highest observed rate of those compared.
    """
    if not _as_in_the_report(question):
        return ""
    name = name_in_report(question, first=first)
    return "; ".join(
        row["words"]
        for row in _rows_of("missed.csv")
        if name in row["kinds"].split("; ")
        and verdict in row["verdicts"].split("; ")
        and int(row["fewest"] or 0) <= hitters <= float(row["most"] or inf)
    )
