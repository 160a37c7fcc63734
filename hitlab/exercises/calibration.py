"""The learner's own calibration: whether answers were right as often as he was sure of them.

Counted are first verdicts on the claims of lessons that are over, and first tries with ``sure=``. Somebody
who is right as often as sure is right so many times by the law of a sum of independent answers; how far out a
number lies is worked out exactly. One looks after every answer, so that "more than luck gives" is said where
luck gives it at one look in two hundred: of those who are right as often as sure fewer than one in ten hear
it within sixty answers (tested). Answers to one idea are not quite independent; that is left out.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from typing import Any

import numpy as np

from hitlab.errors import HitlabError
from hitlab.exercises.forecasts import VERDICTS, read_chance, read_verdict
from hitlab.exercises.notices import NOT_YET, RIGHT
from hitlab.wording import percent

__all__ = ["OwnCalibration", "forecasts_of", "own_calibration"]

_FEWEST = 5  # forecasts from which something is said
_RARE = 0.005  # at each look and to one side
_GROUPS = (0.0, 0.5, 0.7, 0.9, 1.0 + 1e-9)
_SIZE, _EDGE = 220, 44  # of the picture, in CSS pixels


@dataclass(frozen=True, slots=True)
class OwnCalibration:
    """How sure a learner was, and how often right.

    Attributes
    ----------
    forecasts
        Pairs of how sure he was (0 to 1) and whether he was right.
    """

    forecasts: tuple[tuple[float, bool], ...]

    @property
    def by_luck(self) -> tuple[float, float]:
        """The chances that somebody as sure, and right as often, has so few right, and so many."""
        law = np.ones(1)
        for sure, _ in self.forecasts:
            law = np.convolve(law, (1 - sure, sure))
        right = sum(right for _, right in self.forecasts)
        return float(law[: right + 1].sum()), float(law[right:].sum())

    @property
    def lines(self) -> tuple[str, ...]:
        """What is said of it: nothing while there are too few."""
        many = len(self.forecasts)
        if many < _FEWEST:
            return ()
        sure = percent(sum(one for one, _ in self.forecasts) / many)
        right = sum(right for _, right in self.forecasts)
        said = f"You said how sure you are {many} times: {sure} on average, and {right} of {many} were right."
        few, many_right = self.by_luck
        if few <= _RARE:
            return (f"{said} You are over-confident, by more than luck gives: say less than you feel.",)
        if many_right <= _RARE:
            return (f"{said} You know more than you say, by more than luck gives: dare to be surer.",)
        apart = right - sum(one for one, _ in self.forecasts)
        if abs(apart) < 0.5:
            return (f"{said} That is as often as sure.",)
        way = "more" if apart > 0 else "less"
        return (f"{said} That you are right {way} often than sure may still be luck.",)

    def groups(self) -> list[tuple[float, float, int]]:
        """Return, for answers of about one chance, its mean, the share that was right, and their number."""
        found = []
        for low, high in itertools.pairwise(_GROUPS):
            inside = [(sure, right) for sure, right in self.forecasts if low <= sure < high]
            if inside:
                means = [sum(values) / len(inside) for values in zip(*inside, strict=True)]
                found.append((means[0], means[1], len(inside)))
        return found

    def picture(self) -> str:
        """Return the picture as an SVG element; empty while there are too few."""
        if len(self.forecasts) < _FEWEST:
            return ""
        groups = self.groups()
        told = "; ".join(
            f"about {percent(sure)} sure: {percent(right)} of {many} right" for sure, right, many in groups
        )
        marks = "".join(_mark(*group) for group in groups)
        ends = "".join(
            f'<text x="{_x(at):.1f}" y="{_y(0) + 18:.1f}" text-anchor="middle">{percent(at)}</text>'
            f'<text x="{_x(0) - 6:.1f}" y="{_y(at) + 4:.1f}" text-anchor="end">{percent(at)}</text>'
            for at in (0.0, 0.5, 1.0)
        )
        whole = _SIZE + 2 * _EDGE
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{whole}" height="{whole}" '
            f'font-size="12" fill="currentColor" style="display:block;max-width:100%">'
            f"<title>Right as often as sure? {escape(told)}</title>"
            f'<rect x="{_x(0)}" y="{_y(1)}" width="{_SIZE}" height="{_SIZE}" fill="none" '
            'stroke="currentColor"/>'
            f'<line x1="{_x(0)}" y1="{_y(0)}" x2="{_x(1)}" y2="{_y(1)}" stroke="currentColor" '
            f'stroke-dasharray="5 4"/>{marks}{ends}'
            f'<text x="{_x(0.5)}" y="{_y(0) + 36}" text-anchor="middle">how sure you were</text>'
            f'<text x="{_x(0)}" y="{_y(1) - 20}">how often you were right</text></svg>'
        )


def _mark(sure: float, right: float, many: int) -> str:
    """Return a dot, larger for more answers, with their number toward the middle of the picture."""
    x, y, size = _x(sure), _y(right), 3 + 2 * math.sqrt(many)
    return (
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{size:.1f}" fill="#1f4e79" fill-opacity="0.75"/>'
        f'<text x="{x:.1f}" y="{y + (size + 13 if right > 0.5 else -size - 3):.1f}" '
        f'text-anchor="middle">{many}</text>'
    )


def _x(share: float) -> float:
    return _EDGE + _SIZE * share


def _y(share: float) -> float:
    return _EDGE + _SIZE * (1 - share)


def own_calibration(progress: dict[str, Any]) -> OwnCalibration:
    """Return a learner's calibration from what is kept of him.

    Parameters
    ----------
    progress
        As ``keeping.read_all`` gives it. What cannot be read in it counts for nothing.
    """
    return OwnCalibration(tuple(forecasts_of(progress)))


def forecasts_of(progress: dict[str, Any]) -> Iterator[tuple[float, bool]]:
    """Give every chance that counts, and whether it came right."""
    for given in progress["confidence"].values():
        truth = given.get("truth")
        if truth not in VERDICTS:  # its lesson is not over, and nothing of it is given away
            continue
        every = given.get("given")
        firsts = [one[1:3] for one in every if _is_before(one)] if isinstance(every, list) else []
        first = firsts[0] if firsts else given.get("before")
        try:
            word, sure = read_verdict(*first)
        except (TypeError, ValueError, HitlabError):  # not given, or the file was edited
            continue
        yield sure, word == truth
    for entry in progress["exercises"].values():
        if entry.get("first_state") in (RIGHT, NOT_YET) and "sure" in entry:
            try:
                yield read_chance(entry["sure"], least=0.0), entry["first_state"] == RIGHT
            except HitlabError:
                continue


def _is_before(entry: Any) -> bool:
    return isinstance(entry, list) and len(entry) >= 3 and entry[0] == "before"
