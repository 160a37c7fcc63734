"""Chances to be among the highest true rates, by quadrature: of all, or of one as his record changes.

Under one prior law the groups' rates are independent. At each of many log odds stands how dense each group's
rate is there, and how likely fewer than so many of the others are above; the integral of their product is the
chance. The laws are averaged after.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Self

import numpy as np
from numpy.typing import NDArray

from hitlab.estimates.posterior import Posterior
from hitlab.estimates.threads import one_thread

__all__ = ["LEAST_LOG", "Rivals", "chance_above", "chance_of_top", "trigamma"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

LEAST_LOG = -200.0
"""e to this is nothing, and no number so small that arithmetic slows down comes of it."""

_NODES, _MOST_PANELS = 64, 64
_QUICK, _MOST_HELD = 250_000, 8_000_000  # numbers at once: 2 MB where that is quickest, and 64 MB
_WANTED = 1e-8  # how far the chances' sum may be from the number of places
_MASS_WANTED = 1e-9  # how far a density's mass may be off
_LEFT_OVER = 1e-6  # the last polynomials' share of a density; those after it fall off faster and faster
_NO_SHARE = 1e-12  # a part's share of a law that is left out of account
_REACH, _TAIL = 7.0, 17.0  # standard deviations of the log odds, and more in the tails, that are looked at
_FARTHER = 25.0  # of a tail where a rate from outside lies beside it: a chance is off by what is cut off


def chance_of_top(posterior: Posterior, top: int) -> Floats:
    """Chance of each group to be among the ``top`` highest true rates, by quadrature.

    The prior laws are shared by all groups: the chance is worked out under each and averaged. Under one law,
    Gauss-Legendre panels of 64 nodes over the log odds at which the ``top``-th place can lie; distribution
    functions come from integrating the densities at the same nodes. Panels are doubled until the narrowest
    densities have their mass within 1e-9, the chances add up to ``top`` within 1e-8 (exact integrals do), and
    the last two polynomials have no more than 1e-6 of any density (a mass and a sum may be right by luck).

    Returns
    -------
    chances
        Shape (groups,); they add up to ``top``.
    """
    laws, groups = len(posterior.weights), posterior.a.shape[1]
    if top >= groups:
        return np.ones(groups)
    chance = np.zeros(groups)
    with one_thread():
        for block in _split(np.arange(laws), groups, _MOST_HELD // 10):
            field = _field(posterior.under(block, posterior.weights[block]), top)
            todo, panels = np.arange(len(block)), 1
            while len(todo):
                late = []
                for some in _portions(todo, field, panels, top):
                    part = field.under(some)
                    each, off, _ = _chances(part, top, panels)
                    done = (off <= 1) | (panels >= _MOST_PANELS)
                    share = part.rates.weights[done] * top / each[done].sum(axis=1)
                    chance[part.alive] += share @ each[done]
                    late.append(some[~done])
                todo, panels = np.concatenate(late), panels * 2
    return chance


def _split(laws: Wholes, each: int, most: int) -> list[Wholes]:
    """Split the laws, of which each holds so many numbers, so that what is held at once stays small."""
    at_once = max(1, most // each)
    return [laws[i : i + at_once] for i in range(0, len(laws), at_once)]


def _portions(laws: Wholes, field: _Field, panels: int, top: int) -> list[Wholes]:
    """Split the laws for the nodes of so many panels."""
    each = len(field.alive) * panels * _NODES * (1 if top == 1 else top + 2)
    return _split(laws, each, _QUICK if top == 1 else _MOST_HELD)


@dataclass(frozen=True, slots=True)
class _Field:
    """Who can be among the top under any of some laws, and where the ``top``-th place lies under each.

    ``rates`` is of those alone; ``low`` and ``high``, log odds, have the shape (laws,).
    """

    alive: Wholes
    rates: Posterior
    low: Floats
    high: Floats

    def under(self, laws: Wholes) -> _Field:
        """Return the part under some of the laws."""
        return _Field(
            self.alive, self.rates.under(laws, self.rates.weights[laws]), self.low[laws], self.high[laws]
        )


def _field(rates: Posterior, top: int, *, besides: int | None = None) -> _Field:
    """Find the field by normal laws for the log odds; ends that are too near show in the chances' sum.

    ``besides`` one whose record changes, the ``top``-th place of all the others lies within the ends too.
    """
    from scipy.special import ndtr, psi

    a, b, first = rates.a, rates.b, rates.first
    centre = psi(a) - psi(b)
    spread = np.sqrt(trigamma(a) + trigamma(b))
    # The tails of log odds fall like exp(-a * distance) and exp(-b * distance), slower than normal ones.
    tail = _TAIL if besides is None else _FARTHER
    highest, lowest = centre + _REACH * spread + tail / b, centre - _REACH * spread - tail / a
    middling = centre
    if first is not None and rates.shares is not None:
        there = rates.shares > _NO_SHARE  # a part that a group as good as surely has not ends nowhere
        highest = np.maximum.reduceat(np.where(there, highest, -np.inf), first, axis=0)
        lowest, middling = (
            np.minimum.reduceat(np.where(there, one, np.inf), first, axis=0) for one in (lowest, middling)
        )
    high = highest.max(axis=1)
    if besides is not None:
        lowest, middling = (np.delete(one, besides, axis=1) for one in (lowest, middling))
    low = np.partition(lowest, -top, axis=1)[:, -top]
    # With many groups the place is surely higher: where so many are expected above that fewer than
    # ``top`` are as good as impossible (a Poisson tail). Of those in the middle of whose laws it lies, half.
    wanted = 25 + 5 * top
    if middling.shape[1] > 2 * wanted:
        low = np.maximum(low, np.partition(middling, -2 * wanted, axis=1)[:, -2 * wanted])
    alive = np.flatnonzero((highest > low[:, np.newaxis]).any(axis=0))
    rates, centre, spread = rates.only(alive), centre[:, alive], spread[:, alive]
    if len(alive) > wanted:
        law, end = rates.law_of_part, high.copy()
        for _ in range(12):
            middle = (low + end) / 2
            above = rates.by_law(ndtr((centre - middle[law, np.newaxis]) / spread)).sum(axis=1)
            low, end = np.where(above > wanted, middle, low), np.where(above > wanted, end, middle)
    return _Field(alive, rates, low, high)


def _by_law(mass: Floats, first: Wholes) -> Floats:
    """Add up the parts of each law; with few parts a law, quicker than NumPy's own over the first axis."""
    parts = np.diff(first, append=len(mass))
    summed = mass[first]
    for further in range(1, int(parts.max())):
        there = parts > further
        summed[there] += mass[first[there] + further]
    return summed


def trigamma(x: Floats) -> Floats:
    """Return the second derivative of the log gamma function, near enough to find ends."""
    return np.asarray(1 / x**2 + 1 / (x + 1) + 1 / (2 * (x + 1) ** 2) + 1 / (6 * (x + 1) ** 3))


def _chances(
    field: _Field, top: int, panels: int, besides: int | None = None
) -> tuple[Floats, Floats, Floats]:
    """Return the chances, for each law the error in units of what is wanted, and the room at each node.

    The chances' shape is (laws, alive). The room is the chance that fewer than ``top`` of all ``besides`` one
    of the groups are above a node, shape (laws, nodes). Chances ask that it is right where these groups'
    rates may lie; where one's record changes more is asked, of all nodes.
    """
    from scipy.special import betaincc, expit

    rates, law = field.rates, field.rates.law_of_part
    a, b = rates.a, rates.b
    laws, groups = len(field.low), a.shape[1]
    _, step, tail, last = _rule()
    mass = _densities(rates, field.low, field.high, panels)
    within = mass.reshape(-1, _NODES)  # a view: what follows changes mass itself
    total = (within @ step).reshape(laws, groups, panels)
    beyond = np.cumsum(total[:, :, ::-1], axis=2)[:, :, ::-1] - total
    above = within @ tail
    above += beyond.reshape(-1, 1)
    above = above.reshape(mass.shape)
    rough = np.abs(within @ last).reshape(laws, -1).max(axis=1)
    within *= step
    # The narrowest densities ask most of the nodes.
    size = a + b if rates.first is None else np.maximum.reduceat(a + b, rates.first, axis=0)
    narrowest = np.argsort(-size, axis=1)[:, :8]
    where = narrowest[law]
    hard = Posterior(
        rates.weights,
        np.take_along_axis(a, where, 1),
        np.take_along_axis(b, where, 1),
        None
        if rates.shares is None
        else np.take_along_axis(np.broadcast_to(rates.shares, a.shape), where, 1),
        rates.first,
    )
    true_mass = hard.by_law(betaincc(hard.a, hard.b, expit(field.low)[law, np.newaxis]))
    missed = np.abs(np.take_along_axis(total.sum(axis=2), narrowest, 1) - true_mass).max(axis=1)
    him = np.flatnonzero(field.alive == besides)
    if top == 1:
        log_under = np.log(np.maximum(1 - above, 1e-300))
        log_all = log_under.sum(axis=1)
        others = log_all[:, np.newaxis] - log_under
        np.exp(np.maximum(others, LEAST_LOG, out=others), out=others)
        room = others[:, him[0]] if len(him) else np.exp(np.maximum(log_all, LEAST_LOG))
    else:
        side_by_side = np.clip(above, 0.0, 1.0).transpose(1, 0, 2).reshape(groups, -1)
        others, room = _fewer_above(side_by_side, top)
        others = others.reshape(groups, laws, -1).transpose(1, 0, 2)
        room = others[:, him[0]] if len(him) else room.reshape(laws, -1)
    chance = np.einsum("lij,lij->li", mass, others)
    off = np.abs(chance.sum(axis=1) - top) / _WANTED
    rough /= _LEFT_OVER if besides is None else _MASS_WANTED
    return chance, np.maximum(np.maximum(off, rough), missed / _MASS_WANTED), room


def _densities(rates: Posterior, low: Floats, high: Floats, panels: int) -> Floats:
    """Return each rate's density at the nodes of panels between two log odds, shape (laws, groups, nodes).

    Times the weights of a panel's nodes they are the mass at each node.
    """
    from scipy.special import betaln

    a, b, law = rates.a, rates.b, rates.law_of_part
    width = (high - low) / panels
    place = (np.arange(panels)[:, np.newaxis] + (_rule()[0] + 1) / 2).ravel()
    y = low[:, np.newaxis] + width[:, np.newaxis] * place  # (laws, nodes)
    log_x, log_rest = -np.logaddexp(0, -y)[law], -np.logaddexp(0, y)[law]
    constant = np.log(width / 2)[law, np.newaxis] - betaln(a, b)
    if rates.shares is not None:
        constant = constant + np.log(np.maximum(rates.shares, _NO_SHARE))
    # a log x + b log(1 - x) + constant, part by part one small product of matrices.
    factors = np.stack([a, b, constant], axis=2)
    density = factors @ np.stack([log_x, log_rest, np.ones_like(log_x)], axis=1)
    np.maximum(density, LEAST_LOG, out=density)
    np.exp(density, out=density)
    return density if rates.first is None else _by_law(density, rates.first)


@lru_cache(maxsize=1)
def _rule() -> tuple[Floats, Floats, Floats, Floats]:
    """Nodes and weights of a panel, what integrates from each node to the panel's end, and what is left over.

    A function given at the nodes is a sum of Legendre polynomials, and the integral of each is a
    difference of its two neighbours. The last matrix gives the last two polynomials' shares: where they are
    nothing, there were nodes enough.
    """
    x, w = np.polynomial.legendre.leggauss(_NODES)
    values = np.polynomial.legendre.legvander(x, _NODES)
    degree = np.arange(_NODES)
    to_coefficients = (degree[:, np.newaxis] + 0.5) * values[:, :_NODES].T * w
    integral = np.empty((_NODES, _NODES))  # of each polynomial from each node to 1
    integral[:, 0] = 1 - x
    integral[:, 1:] = (values[:, : _NODES - 1] - values[:, 2:]) / (2 * degree[1:] + 1)
    return x, w, np.ascontiguousarray((integral @ to_coefficients).T), to_coefficients[-2:].T


def _fewer_above(above: Floats, top: int) -> tuple[Floats, Floats]:
    """Return the chance that fewer than ``top`` are above: of each group's others, and of all, at each node.

    The number above is a sum of unequal coins; leaving one out is done by joining the sums before and
    after it, which never subtracts and so keeps its digits.
    """
    groups, nodes = above.shape
    before = np.zeros((groups + 1, top, nodes))
    before[0, 0] = 1.0
    for i in range(groups):
        before[i + 1] = before[i] * (1 - above[i])
        before[i + 1, 1:] += before[i, :-1] * above[i]
    after = np.zeros((top, nodes))
    after[0] = 1.0
    chance = np.empty_like(above)
    for i in range(groups - 1, -1, -1):
        at_most = np.cumsum(after, axis=0)[::-1]  # row j: at most top - 1 - j above among those after
        chance[i] = (before[i] * at_most).sum(axis=0)
        fresh = after * (1 - above[i])
        fresh[1:] += after[:-1] * above[i]
        after = fresh
    return chance, before[-1].sum(axis=0)


def chance_above(posterior: Posterior, one: int, other: int) -> float:
    """Chance that one group's true rate is above another's, by quadrature."""
    pair = posterior.only(np.array([one, other]))
    return float(chance_of_top(pair, 1)[0])


class Rivals:
    """A field in which one's record changes: how likely each is among the highest rates, and he with another.

    While only his record changes and the laws stay, how likely fewer than ``top`` of the others are above a
    rate is the same each time; it is worked out once, for each law at the nodes between which the others'
    ``top``-th place can lie.

    Parameters
    ----------
    posterior
        Of all of the field, under laws that every call shares.
    place
        Whose record changes.
    top
        Among how many highest rates, from 1.
    """

    def __init__(self, posterior: Posterior, place: int, top: int) -> None:
        self._field, self._place, self._top = posterior, place, top
        self._found: dict[int, _Rooms] = {}

    def chances(self) -> Floats:
        """Return the chance of each as the records are, as :func:`chance_of_top` has it."""
        weights, groups, top = self._field.weights, self._field.a.shape[1], self._top
        if top >= groups:
            return np.ones(groups)
        chance, panels, todo = np.zeros(groups), 1, np.arange(len(weights))
        while len(todo):
            rooms = self._rooms(panels, todo)
            done = (rooms.off[todo] <= 1) | (panels >= _MOST_PANELS)
            each = rooms.each[todo[done]]
            chance += (weights[todo[done]] * top / each.sum(axis=1)) @ each
            todo, panels = todo[~done], panels * 2
        return chance

    def chance(self, own: Posterior) -> float:
        """Return the chance that his is among the highest ``top`` rates.

        Parameters
        ----------
        own
            What is known of his rate alone: one group, under the same laws with the same weights.

        Returns
        -------
        float
            As :func:`chance_of_top` has it for all of the field with this record, but that it adds up with
            nobody else's: off by no more than about 1e-8.
        """
        from scipy.special import betaincc, expit

        if self._top >= self._field.a.shape[1]:
            return 1.0
        weights, step = own.weights, _rule()[1]
        chance, panels, todo = 0.0, 1, np.arange(len(weights))
        while len(todo):
            rooms = self._rooms(panels, todo)
            low, high = rooms.ends[todo].T
            some = own.under(todo, weights[todo])
            with one_thread():
                mass = _densities(some, low, high, panels)[:, 0] * np.tile(step, panels)
            over_low, over_high = (
                some.by_law(betaincc(some.a, some.b, expit(end)[some.law_of_part, np.newaxis]))[:, 0]
                for end in (low, high)
            )
            missed = np.abs(mass.sum(axis=1) - (over_low - over_high)) / _MASS_WANTED
            done = (np.maximum(missed, rooms.off[todo]) <= 1) | (panels >= _MOST_PANELS)
            each = (mass * rooms.room[todo]).sum(axis=1) + over_high
            chance += float(weights[todo[done]] @ each[done])
            todo, panels = todo[~done], panels * 2
        return chance

    def _rooms(self, panels: int, wanted: Wholes) -> _Rooms:
        """Return what the others leave, by law; of laws that were never wanted it is missing."""
        laws, groups = len(self._field.weights), self._field.a.shape[1]
        if panels not in self._found:
            self._found[panels] = _Rooms.none(laws, groups, panels * _NODES)
        rooms = self._found[panels]
        fresh = wanted[np.isnan(rooms.off[wanted])]
        with one_thread():
            for block in _split(fresh, groups, _MOST_HELD // 10):
                under = self._field.under(block, self._field.weights[block])
                field = _field(under, self._top, besides=self._place)
                rooms.ends[block] = np.stack([field.low, field.high], axis=1)
                for some in _portions(np.arange(len(block)), field, panels, self._top):
                    each, off, room = _chances(field.under(some), self._top, panels, self._place)
                    rooms.off[block[some]], rooms.room[block[some]] = off, room
                    rooms.each[np.ix_(block[some], field.alive)] = each
        return rooms


@dataclass(frozen=True, slots=True)
class _Rooms:
    """What others leave to one, law by law: ends, errors, the room at the nodes, and each one's chance."""

    ends: Floats
    off: Floats
    room: Floats
    each: Floats

    @classmethod
    def none(cls, laws: int, groups: int, nodes: int) -> Self:
        """Begin with nothing."""
        ends, off, room = (np.full(shape, np.nan) for shape in ((laws, 2), laws, (laws, nodes)))
        return cls(ends, off, room, np.zeros((laws, groups)))
