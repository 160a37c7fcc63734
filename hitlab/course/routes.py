"""Three ways through the lessons, for three kinds of people: which lessons, in which order, and why."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["ROUTES", "Route"]


@dataclass(frozen=True, slots=True)
class Route:
    """A way through the lessons.

    Attributes
    ----------
    name
        Who goes it.
    wants
        What for, in half a sentence.
    steps
        Lesson numbers in their order, each with the reason in one line.
    """

    name: str
    wants: str
    steps: tuple[tuple[str, str], ...]


ROUTES = (
    Route(
        "The broadcaster",
        "wants one sentence that is safe to say before the next pitch",
        (
            ("00", "the words of all the others: mean, spread, range, and how much of it is luck"),
            ("01", "nearly every wrong sentence divides by the wrong thing"),
            ("02", "few swings promise little: what lessons 3, 5 and 11 pull toward the mean"),
            ("03", "a claim, its verdict, and the sentence for air"),
            ("05", '"leads the list" and "is the best" are two sentences'),
            ("11", '"after a miss he adjusts": what follows what, and by how much more than usual'),
            ("07", "what a long fly would have done in another park"),
        ),
    ),
    Route(
        "The coach",
        "wants to know what to chart, what to believe of it, and what to work on",
        (
            ("00", "the words of all the others: mean, spread, range, and how much of it is luck"),
            ("01", "which pitches are swings, and which number answers the question asked"),
            ("02", "how much of a hot week to believe"),
            ("13", "a team without a radar: what a tick is worth, and how far two charters agree"),
            ("06", "what an inch at the barrel does to the ball"),
            ("08", "what early and late do, and what a foul says about it"),
            ("09", "who is ready for the fastball, against the league on the same pitches"),
            ("12", "whom to send up, and how little it often matters"),
        ),
    ),
    Route(
        "The analyst",
        "works the numbers out and has to say how sure they are",
        (
            ("00", "variance of luck and of talent, drawn by hand"),
            ("01", "counting every swing, and the denominators"),
            ("02", "shrinkage, and why early leaders fall"),
            ("04", "what an interval promises, counted"),
            ("05", "the leader's excess, and ranks with their doubt"),
            ("10", "two rates: luck hides a link, and shared parts mimic one"),
            ("11", "strata and a placebo instead of a plain before and after"),
            ("03", "all of it in one claim, with its verdict"),
        ),
    ),
)
"""The three ways; other lessons may follow in any order."""
