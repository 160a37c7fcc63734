"""What shape the law of true rates may have besides a Beta law: tails, and humps.

A shape is a mixture of two or three Beta laws at fixed places, in units of the law's own spread, so that
mean and spread stay the two numbers that are integrated over. With the mean ``m``, the spread ``r`` (a share
of the largest possible) and ``t`` chosen so that the mean is exactly ``m``, part ``j`` has the mean

    (1 - cos(t + r * offset[j])) / 2

(on the scale on which a spread is the same everywhere, so that no part leaves 0 to 1) and a spread of
``r * width[j]``. Offsets and widths are standardised: together the parts have mean 0 and variance 1.

What the shapes are, and how likely each is before the table is seen, was written down before any result: the
plain law even money; long upper tails, long lower tails, tails on both sides, and two humps an eighth each,
the shapes of a kind equally likely.

An earlier trial of a law of two kinds of hitters, with a mean for each, gained little: four numbers had to be
learned from every table, and most tables are plain. Here no number more is learned; a shape only has to
explain the table better than the plain law, and where none does the answer stays the plain law's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

__all__ = ["FEW_SHAPES", "PLAIN", "SHAPES", "Shape"]

Floats = NDArray[np.float64]

_NEAREST = 1e-6  # how near to 0 and 1 the mean of a part may be


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """A mixture of Beta laws, standardised to mean 0 and variance 1.

    Attributes
    ----------
    name, kind
        In words; shapes of a kind are told together.
    prior
        How likely it is before the table is seen.
    shares, offsets, widths
        Shape (parts,): how much each part is, where, and how wide.
    """

    name: str
    kind: str
    prior: float
    shares: Floats
    offsets: Floats
    widths: Floats

    def parts(self, mean: Floats, r: Floats) -> tuple[Floats, Floats]:
        """Return means and sizes of the parts, the parts along the last axis of the broadcast arguments."""
        if len(self.shares) == 1:
            size = np.broadcast_to(1 / r**2 - 1, np.broadcast_shapes(mean.shape, r.shape))
            return np.broadcast_to(mean, size.shape)[..., np.newaxis], size[..., np.newaxis]
        turned = np.exp(1j * r[..., np.newaxis] * self.offsets) @ self.shares
        # The mean of all parts is (1 - |turned| cos(t + angle)) / 2.
        cosine = np.clip((1 - 2 * mean) / np.abs(turned), -1, 1)
        sine = np.sqrt((1 - cosine) * (1 + cosine))
        off = r[..., np.newaxis] * self.offsets - np.angle(turned)[..., np.newaxis]
        # The parts come first in memory: each is looked at alone.
        means = np.array([cosine * np.cos(x) - sine * np.sin(x) for x in np.moveaxis(off, -1, 0)])
        np.subtract(1, means, out=means)
        means /= 2
        means = np.moveaxis(np.clip(means, _NEAREST, 1 - _NEAREST, out=means), 0, -1)
        size = (1 / r**2 - 1)[..., np.newaxis] / self.widths**2
        return means, np.broadcast_to(size, means.shape)


def _shape(
    name: str, kind: str, prior: float, *, shares: Sequence[float], at: Sequence[float], wide: Sequence[float]
) -> Shape:
    """Standardise a shape that is given in units of its main part's spread."""
    share, place, width = (np.array(one, dtype=float) for one in (shares, at, wide))
    place = place - share @ place
    spread = np.sqrt(share @ (place**2 + width**2))
    return Shape(name, kind, prior, share, place / spread, width / spread)


_TAILS = {  # share of each part after the first, its place, its width
    "a slight tail": ((0.3,), (1.5,), (1.7,)),
    "a tail": ((0.1,), (2.5,), (2.0,)),
    "a thin tail": ((0.03,), (4.0,), (2.0,)),
    "a long tail": ((0.16, 0.04), (2.0, 6.0), (1.5, 4.0)),
}
_BOTH = {"heavy tails": (0.2, 2.5), "far strays": (0.05, 4.0)}  # share and width of the wide part
_HUMPS = {  # share and place of the second hump
    "halves": (0.5, 3.0),
    "a third higher": (0.3, 3.0),
    "a third lower": (0.3, -3.0),
    "a few higher": (0.1, 4.0),
    "a few lower": (0.1, -4.0),
}


def _shapes() -> list[Shape]:
    each, shapes = 1 / 8, [PLAIN]
    for kind, side, high in (("a long upper tail", 1, "high"), ("a long lower tail", -1, "low")):
        for name, (share, places, width) in _TAILS.items():
            shares, at = (1 - sum(share), *share), (0.0, *(side * x for x in places))
            words, prior = f"{name} of {high} rates", each / len(_TAILS)
            shapes.append(_shape(words, kind, prior, shares=shares, at=at, wide=(1.0, *width)))
    for name, (wide_share, wide) in _BOTH.items():
        shares, at, prior = (1 - wide_share, wide_share), (0.0, 0.0), each / len(_BOTH)
        shapes.append(_shape(name, "long tails on both sides", prior, shares=shares, at=at, wide=(1.0, wide)))
    for name, (second, place) in _HUMPS.items():
        shares, at, prior = (1 - second, second), (0.0, place), each / len(_HUMPS)
        words = f"two humps, {name}"
        shapes.append(_shape(words, "two humps", prior, shares=shares, at=at, wide=(1.0, 1.0)))
    return shapes


PLAIN = Shape("one hump", "plain", 0.5, np.ones(1), np.zeros(1), np.ones(1))
"""The Beta law itself."""

SHAPES: tuple[Shape, ...] = tuple(_shapes())
"""The plain law and all others."""

_OF_FEW = ("a slight tail", "a long tail", "heavy tails", "two humps, a third")


def _few_shapes() -> tuple[Shape, ...]:
    some = [PLAIN, *(shape for shape in SHAPES if shape.name.startswith(_OF_FEW))]
    of_kind = {shape.kind: sum(one.prior for one in some if one.kind == shape.kind) for shape in some}
    kinds = {shape.kind: sum(one.prior for one in SHAPES if one.kind == shape.kind) for shape in some}
    return tuple(replace(one, prior=one.prior / of_kind[one.kind] * kinds[one.kind]) for one in some)


FEW_SHAPES = _few_shapes()
"""Fewer shapes, each kind as likely as before, for tables that tell no shapes of a kind apart."""
