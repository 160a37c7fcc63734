"""Names of an invented league: people, clubs, places. None is meant to be anybody's.

Surnames are put together from invented heads and tails. Change one only after looking at every
surname that it makes with the other list: none may be one that a known player has, nor nearly so.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

__all__ = ["CLUBS", "LONG_NAME", "SHARED_NAME", "hitter_names", "pitcher_names"]

CLUBS = (
    "Saltmere Lanterns",
    "Brindle Bay Herons",
    "Tarnwick Foxgloves",
    "Copperhollow Kites",
    "Lowmarsh Beacons",
    "Ashferry Millers",
    "Port Quillan Otters",
    "Highfell Masons",
    "Dunmarrow Larks",
    "Westering Ploughs",
    "Greywater Thistles",
    "Oakendell Bellringers",
    "Thornsea Gulls",
    "Mossbank Weavers",
    "Candlewick Comets",
    "Ferncliff Badgers",
    "Stonewhistle Sailmakers",
    "Amberlow Cross Wrens",
    "Fallowdene Coopers",
    "Ironbrook Moths",
)
"""Clubs in order of use."""

LONG_NAME = "Maximiliana Brackenthorpe-Vandersteenhoven"
SHARED_NAME = "Noor Fencombe"
"""Two hitters of different clubs have this name."""


def _words(text: str) -> list[str]:
    return text.split()


_FIRST = _words("""
Ada Adebayo Aiko Alenka Amadou Anouk Aroha Astrid Basil Beatriz Béla Benedikt Bojan Caius Carys
Chidi Clementine Dagny Dalia Deniz Edda Eilidh Elif Emeka Enzo Esmé Fabrice Farah Fintan Freya
Gael Gideon Greta Hana Haruki Hedda Hugo Ilse Imani Íñigo Isolde Itziar Jaromir Jiří Joaquina
Kaveh Keanu Kerstin Kofi Leilani Linnea Lorcan Lucía Łucja Magnus Malik Marisol Mateja
Mbali Mireille Nadia Ngaire Nils Noor Octavia Odile Omari Oona Paloma Per Petra Priya Quentin
Ragna Ramona Renzo Roksana Runa Sade Sanjay Saoirse Sinéad Søren Soraya Tadeo Tamsin Tariq
Temperance Thandi Tobiah Tuomas Ulla Umberto Vesna Viggo Wanjiru Wilhelmina Xiomara Yara Yusuf
Zoë Zora
""")

_SURNAME_PARTS = (
    (
        _words("Ald Bracken Cres Dray Fen Garn Hax Kest Lark Wych Nether Pell Quar Rav Sten Thorn Wex"),
        _words("acre beck combe ditch elow field garth hurst ister lade moor ney shaw thwaite wold"),
    ),
    (
        _words("Abal Burg Carv Dom Elz Fal Gor Iz Lerz Mond Ot Pas Quil Sel Tav Urr Vel Zam"),
        _words("adría eirol enzal iches oba onte osende ulfe ivar ezno andra úcar"),
    ),
    (
        _words("Ama Hoshi Iro Kana Kuro Mizu Nagi Oto Sora Tsuki Yori"),
        _words("bane dori gane kiri nobe ruma shige tachi zuma"),
    ),
    (
        _words("Abi Chu Dle Eke Jaro Kol Mbo Nko Oda Pra Sze Tém Vra Zhe"),
        _words("barev dosu gorin kwali lanek mbulo ndrasz niek rovitz senya tombe zelik"),
    ),
    (
        _words("Bjar Dryn Ekk Grön Hjel Kval Myrk Nyst Skår Tove Vik"),
        _words("bakk desen fjell rygg holt marr svåg torp vall"),
    ),
)


def _names(number: int, rng: np.random.Generator, taken: set[str]) -> list[str]:
    names: list[str] = []
    while len(names) < number:
        heads, tails = _SURNAME_PARTS[rng.integers(len(_SURNAME_PARTS))]
        surname = heads[rng.integers(len(heads))] + tails[rng.integers(len(tails))]
        name = f"{_FIRST[rng.integers(len(_FIRST))]} {surname}"
        if name not in taken:
            taken.add(name)
            names.append(name)
    return names


def hitter_names(club: NDArray[np.int64], rank: NDArray[np.int64], rng: np.random.Generator) -> list[str]:
    """Names of hitters: all different but for one pair in two clubs, and one very long.

    Parameters
    ----------
    club, rank
        Number of the club and rank in it, shape (hitters,).
    rng
        Where the draws come from.
    """
    names = _names(len(club), rng, {SHARED_NAME, LONG_NAME})
    for where, name in (((0, 3), SHARED_NAME), ((1, 5), SHARED_NAME), ((1, 2), LONG_NAME)):
        for hitter in np.flatnonzero((club == where[0]) & (rank == where[1])):
            names[hitter] = name
    return names


def pitcher_names(number: int, rng: np.random.Generator, taken: set[str]) -> list[str]:
    """Names of pitchers, all different and none of them a hitter's."""
    return _names(number, rng, set(taken) | {SHARED_NAME, LONG_NAME})
