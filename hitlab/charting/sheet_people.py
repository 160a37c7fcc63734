"""Who is charted: a club and its players, as a roster has them."""

from __future__ import annotations

import datetime as dt
import os
from dataclasses import dataclass
from typing import Any

from hitlab.counting.days import day_of
from hitlab.errors import ClaimError
from hitlab.names import fold
from hitlab.pitches.dates import EARLIEST
from hitlab.pitches.rosters import load_roster
from hitlab.pitches.schema import LAST_YEAR
from hitlab.showing import quoted
from hitlab.wording import listed
from hitlab.writing import AnyPath, check_outputs

__all__ = ["Club", "Game", "Player", "club_of", "game_day", "inputs_of"]


@dataclass(frozen=True, slots=True)
class Player:
    """A player.

    Attributes
    ----------
    number
        Of the jersey; may be empty.
    name
        As the roster has it.
    side
        ``left``, ``right`` or nothing.
    year
        The class; may be empty.
    """

    number: str
    name: str
    side: str
    year: str


@dataclass(frozen=True, slots=True)
class Club:
    """A club.

    Attributes
    ----------
    name
        May be empty.
    players
        By their numbers; those without one last, as the roster has them.
    """

    name: str
    players: tuple[Player, ...]


@dataclass(frozen=True, slots=True)
class Game:
    """Who plays, and when.

    Attributes
    ----------
    own, other
        The two clubs.
    day
        None where it is not told.
    """

    own: Club
    other: Club
    day: dt.date | None

    @classmethod
    def of(cls, roster: Any, opponents: Any, club: str, opponent: str, date: str | dt.date | None) -> Game:
        """Read both rosters and the day, as whoever asks for a sheet gives them.

        Raises
        ------
        ReadingError, ClaimError
            As :func:`club_of` and :func:`game_day`.
        """
        day = game_day(date)
        return cls(club_of(roster, club, "club"), club_of(opponents, opponent, "opponent"), day)


def inputs_of(path: AnyPath, what: str, *rosters: Any) -> list[str]:
    """Give the files that a sheet is made of, and refuse to write it over one of them.

    Parameters
    ----------
    path
        Where the sheet goes.
    what
        What it is called in the message.
    rosters
        Paths, or what is no file.

    Raises
    ------
    ReadingError
        Where the sheet cannot be written there.
    """
    inputs = [os.fspath(one) for one in rosters if isinstance(one, str | os.PathLike)]
    check_outputs({what: path}, inputs=inputs)
    return inputs


def club_of(roster: Any, name: str, called: str) -> Club:
    """Read a club's roster; of a roster of several clubs the players of the club that is named.

    Parameters
    ----------
    roster
        As :func:`hitlab.pitches.rosters.load_roster` takes it; None for none.
    name
        The club's name, where it is known.
    called
        The argument that names the club, for the message.

    Raises
    ------
    ReadingError
        Where the roster cannot be used.
    ClaimError
        Where nobody in it is of that club.
    """
    read = load_roster(roster)
    if read is None:
        return Club(name, ())
    clubs = list(dict.fromkeys(player.club for player in read.players if player.club))
    several = len({fold(club) for club in clubs}) > 1
    chosen = [one for one in read.players if not (several and name) or fold(one.club) == fold(name)]
    if not chosen:
        raise ClaimError(
            f"{called}={name!r}: nobody in the roster {read.name} is of that club. It has "
            f"{listed([quoted(club) for club in clubs[:12]])}"
        )
    players = [Player(one.number, one.name, one.side, one.year) for one in chosen]
    players.sort(key=lambda one: (not one.number, int(one.number or 0), one.number))
    return Club(name or (clubs[0] if clubs and not several else ""), tuple(players))


def game_day(date: str | dt.date | None) -> dt.date | None:
    """Give the day of the game.

    Parameters
    ----------
    date
        A day, or its text as year-month-day.

    Raises
    ------
    ClaimError
        Where it is none, or of a year whose typed days the reader takes for slips.
    """
    if date is None:
        return None
    day = day_of(date) if isinstance(date, str) else date
    day = day.date() if isinstance(day, dt.datetime) else day
    if not EARLIEST <= day.year <= LAST_YEAR:
        raise ClaimError(f"date={str(day)!r}: give a day from {EARLIEST} to {LAST_YEAR}")
    return day
