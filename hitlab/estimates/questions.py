"""What the law of true rates may depend on: questions, each with its possible answers.

Does exposure tell something of the rate? Do the groups differ? How much is an earlier season worth? Groups
(roles, levels) may differ in three things, each asked for itself: in the mean, in what exposure tells, and in
the spread. Each is pulled toward what is common to all, and where the table does not bear a difference out,
the groups share it.

The default, fixed before any result was seen: whether exposure matters is even money; if it does, a straight
and a bent line in the logarithm of exposure are equally likely.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.errors import CountsError
from hitlab.estimates.traits import SMALLEST
from hitlab.showing import quoted

__all__ = [
    "Kind",
    "Option",
    "Part",
    "SpreadPart",
    "covariate_part",
    "earlier_part",
    "exposure_part",
    "group_part",
    "own_laws",
    "questions",
]

Floats = NDArray[np.float64]

Kind = Literal["exposure", "groups", "exposure by groups", "spread by groups", "covariate", "earlier"]
"""What a question is about."""

_USUAL_DEVIATION = 0.5  # of log exposure
_EARLIER_WEIGHTS = (0.03, 0.06, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.65, 0.8, 1.0)
_FADES = (0.4, 0.7, 1.0)  # the next earlier season against the one after it
_GROUP_SCALES = (0.3, 1.0, 3.0)  # differences of groups, in units of the spread within them
_FEWEST_OF_A_GROUP, _MOST_OWN = 8, 6  # hitters for a law of its own, and groups with one


@dataclass(frozen=True, slots=True, eq=False)
class Option:
    """One answer, and its probability before the table is seen (or a node's share of it).

    It is columns for the mean, earlier counts, or factors by which the law is wider, hitter by hitter; or
    ``nothing``: what is asked about does not matter.
    """

    words: str
    prior: float
    columns: Floats | None = None
    scale: float = 1.0
    earlier_events: Floats | None = None
    earlier_exposure: Floats | None = None
    worth: float = 0.0
    factors: Floats | None = None
    nothing: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """One question with its answers; the first is "it does not matter" where that is possible.

    The name is for people: a column may be called as another question is.
    """

    name: str
    options: tuple[Option, ...]
    kind: Kind


@dataclass(frozen=True, slots=True)
class SpreadPart:
    """The question whether groups have spreads of their own; where its answers lie is looked for.

    Attributes
    ----------
    name
        What the groups are.
    levels
        Each group that may have a spread of its own, in words.
    members
        Shape (groups, hitters): who belongs to it. All others share one spread.
    """

    name: str
    levels: tuple[str, ...]
    members: NDArray[np.bool_]


def questions(
    exposure: Any,
    by_exposure: bool | str = "auto",
    groups: tuple[str, pd.Series[Any]] | None = None,
    covariates: Mapping[str, pd.Series[Any]] | None = None,
    *,
    own: bool = True,
) -> list[Part | SpreadPart]:
    """Return what is asked of a table; what tells nothing is left out.

    Parameters
    ----------
    exposure
        By hitter.
    by_exposure
        Whether exposure is asked about: ``"auto"``, or a link is taken for granted, or denied.
    groups, covariates
        Names and values.
    own
        Whether groups may have links and spreads of their own.
    """
    link = exposure_part(exposure, by_exposure)
    parts: list[Part | SpreadPart | None] = [link]
    if groups is not None:
        # Groups that differ look as if exposure told something, so they come first.
        parts = [group_part(*groups), link]
        parts += own_laws(*groups, exposure, link is not None) if own else []
    parts += [covariate_part(name, values) for name, values in (covariates or {}).items()]
    return [part for part in parts if part is not None]


def exposure_part(exposure: Any, by_exposure: bool | str) -> Part | None:
    """Return the question whether exposure tells something of the rate; none where all have the same.

    A group without exposure stands where the smallest exposure does.
    """
    n = np.asarray(exposure, dtype=float)
    if by_exposure is False or not (n > 0).any():
        return None
    straight, bent = _lines(n, np.ones(len(n), dtype=bool))
    if straight is None:
        return None
    options = [
        Option("no link with exposure", 0.5, nothing=True),
        Option("a straight line in log exposure", 0.25, straight[:, np.newaxis]),
    ]
    if bent is not None:
        options.append(Option("a bent line in log exposure", 0.25, np.column_stack([straight, bent])))
    return Part("exposure", tuple(options[1:] if by_exposure is True else options), "exposure")


def _lines(n: Floats, some: NDArray[np.bool_]) -> tuple[Floats | None, Floats | None]:
    """Return a straight and a bent line in the log exposure of some groups, 0 for all others.

    ``None`` where there is no line to be had.
    """
    log_n = np.log(np.where(n > 0, n, n[n > 0].min()))
    there = some & (n > 0)
    deviation = log_n[there].std() if there.any() else 0.0
    if deviation < 1e-9:
        return None, None
    # Exposures are measured in standard deviations of their logarithms, but where everybody has nearly the
    # same exposure that unit is tiny, and the prior would then allow a large effect of a few swings more.
    # So the unit is never less than a factor of 1.65.
    apart = min(deviation / _USUAL_DEVIATION, 1.0)
    z = (log_n - log_n[there].mean()) / deviation
    bent = z**2 - (z[there] ** 2).mean()
    deviation = bent[there].std()
    straight = np.where(some, apart * z, 0.0)
    if deviation > 1e-6 and len(np.unique(n[there])) > 2:
        return straight, np.where(some, apart**2 * bent / deviation, 0.0)
    return straight, None


def group_part(name: str, values: pd.Series[Any]) -> Part | None:
    """Return the question whether the members of groups differ in the mean; none where there is one group.

    Each group's deviation is normal around 0 (partial pooling); its size is one of three, or nothing. Members
    whose group is missing stand at the mean of all.
    """
    code, levels = pd.factorize(values)
    if len(levels) < 2:
        return None
    columns = (code[:, np.newaxis] == np.arange(len(levels))).astype(float)
    each = 0.5 / len(_GROUP_SCALES)
    options = [Option(f"no difference by {name}", 0.5, nothing=True)]
    options += [
        Option(f"by {name}, {scale:g} times the spread within", each, columns, scale)
        for scale in _GROUP_SCALES
    ]
    return Part(name, tuple(options), "groups")


def own_laws(name: str, values: pd.Series[Any], exposure: Any, slopes: bool) -> list[Part | SpreadPart]:
    """Return the questions whether the links with exposure, and the spreads, are the groups' own.

    They are asked where at most six groups have eight members or more. A link of its own is a line more in
    those groups, pulled toward the line of all; a spread of its own is a factor of the spread of those who
    have the most exposure together.

    Parameters
    ----------
    name, values
        As for ``group_part``.
    exposure
        Exposures of the hitters.
    slopes
        Whether exposure is asked about at all.
    """
    n = np.asarray(exposure, dtype=float)
    code, levels = pd.factorize(values)
    member = code == np.arange(len(levels))[:, np.newaxis]
    enough = (member & (n > 0)).sum(axis=1) >= _FEWEST_OF_A_GROUP
    large, names = member[enough], [quoted(str(one)) for one in levels[enough]]
    if not 1 <= len(large) <= _MOST_OWN or len(levels) < 2:
        return []
    parts: list[Part | SpreadPart] = []
    if slopes:
        lines = [_lines(n, one) for one in large]
        straight = [one for one, _ in lines if one is not None]
        bent = [one for _, one in lines if one is not None]
        options = [Option(f"one link with exposure, whatever the {name}", 0.5, nothing=True)]
        if straight:
            options.append(Option(f"a straight line for each {name}", 0.25, np.column_stack(straight)))
        if bent:
            options.append(Option(f"a bent line for each {name}", 0.25, np.column_stack([*straight, *bent])))
        if len(options) > 1:
            parts.append(Part(f"exposure by {name}", tuple(options), "exposure by groups"))
    most = int((large * n).sum(axis=1).argmax())
    # Where there are others than these groups, they share a spread with the largest.
    if len(large) > 1:
        parts.append(SpreadPart(name, (*names[:most], *names[most + 1 :]), np.delete(large, most, axis=0)))
    return parts


def covariate_part(name: str, values: pd.Series[Any]) -> Part | None:
    """Return the question whether a number tells something of the rate; none where it does not vary.

    The number enters in units of its standard deviation; missing ones stand at the mean.
    """
    number = pd.to_numeric(values, errors="coerce").to_numpy(float)
    known = np.isfinite(number)
    if not known.any() or number[known].std() < SMALLEST:
        return None
    z = np.where(known, (number - number[known].mean()) / number[known].std(), 0.0)
    return Part(
        name,
        (
            Option(f"no link with {name}", 0.5, nothing=True),
            Option(f"a line in {name}", 0.5, z[:, np.newaxis]),
        ),
        "covariate",
    )


def earlier_part(k: Any, n: Any, seasons: Sequence[tuple[Floats, Floats]]) -> Part:
    """Return the question what an attempt of the hitter's own earlier seasons is worth.

    Parameters
    ----------
    k, n
        This season's counts.
    seasons
        Events and exposure of each earlier season, the last one first, in the same order of hitters;
        0 where he did not play.

    Notes
    -----
    An attempt of the last season counts ``w`` of one of this season, one of the season before ``w f``, then
    ``w f**2``; both numbers are weighed on a grid. Each season's rates are first moved on the logit scale so
    that the hitters who were in both seasons have the same mean in both.
    """
    k, n = np.asarray(k, dtype=float), np.asarray(n, dtype=float)
    moved = [_moved(k, n, events, exposure) for events, exposure in seasons]
    if not any(exposure.any() for _, exposure in moved):
        raise CountsError(
            "nobody in the earlier table is in this one; the columns that name a hitter must agree"
        )
    fades = _FADES if len(moved) > 1 else (1.0,)
    options = [Option("earlier seasons count nothing", 0.5, nothing=True)]
    for weight in _EARLIER_WEIGHTS:
        for fade in fades:
            factors = [weight * fade**j for j in range(len(moved))]
            events = sum((f * m[0] for f, m in zip(factors, moved, strict=True)), np.zeros(len(k)))
            exposure = sum((f * m[1] for f, m in zip(factors, moved, strict=True)), np.zeros(len(k)))
            words = f"last season's counts {weight:g}"
            if len(moved) > 1:
                words += f", each season before {fade:g} of the next"
            prior = 0.5 / (len(_EARLIER_WEIGHTS) * len(fades))
            options.append(
                Option(words, prior, earlier_events=events, earlier_exposure=exposure, worth=weight)
            )
    return Part("earlier seasons", tuple(options), "earlier")


def _moved(k: Floats, n: Floats, events: Floats, exposure: Floats) -> tuple[Floats, Floats]:
    both = (n > 0) & (exposure > 0)
    if not both.any():
        return events, exposure

    def log_odds(events: Floats, exposure: Floats) -> float:
        hits, misses = events[both].sum() + 0.5, (exposure - events)[both].sum() + 0.5
        return float(np.log(hits / misses))

    factor = np.exp(log_odds(k, n) - log_odds(events, exposure))
    with np.errstate(invalid="ignore", divide="ignore"):
        rate = np.where(exposure > 0, events / exposure, 0.0)
    return exposure * rate * factor / (1 - rate + rate * factor), exposure
