"""What is saved from the desk: picture, words, numbers and pitches, each in a file of its own."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from hitlab.claims import Claim
from hitlab.errors import ClaimError, quiet_warnings
from hitlab.evidence import card, cut_list, game_dates
from hitlab.names import fold
from hitlab.pages import hitter_page
from hitlab.showing import storable
from hitlab.writing import safe_name, write_file, write_new_file

__all__ = ["SAVED", "save", "stem_of"]


def _picture(claim: Claim, pitches: Any, path: Path) -> None:
    card(claim, path, dates=game_dates(pitches, claim.question))


def _words(claim: Claim, pitches: Any, path: Path) -> None:
    write_file(path, storable(f"{claim.headline}\n\n{claim}\n").encode())


def _numbers(claim: Claim, pitches: Any, path: Path) -> None:
    claim.save(path)


def _cuts(claim: Claim, pitches: Any, path: Path) -> None:
    cut_list(pitches, claim, most=10).save(path)


def _page(claim: Claim, pitches: Any, path: Path) -> None:
    q = claim.question
    if q.subject != "hitter" or not q.who:
        raise ClaimError("this answer is not about one hitter, so there is no page to make")
    with quiet_warnings():
        page = hitter_page(pitches, q.who, q.event, q.per, season=q.season, history=q.history)
    page.save(path)


SAVED: dict[str, tuple[str, str, Callable[[Claim, Any, Path], None]]] = {
    "picture": ("picture", ".png", _picture),
    "text": ("words", ".txt", _words),
    "table": ("numbers", ".csv", _numbers),
    "cut list": ("pitches", ".csv", _cuts),
    "page about the hitter": ("page", ".html", _page),
}
"""What can be saved: how its file ends, and what makes it."""


def stem_of(claim: Claim) -> str:
    """Return what the files of a claim are called: who it is about, and of what kind it is.

    Examples
    --------
    >>> from hitlab import check_leads, demo_season
    >>> stem_of(check_leads(demo_season(), "Nadia Izezno", about="record"))
    'nadia-izezno-leads'
    """
    who = claim.question.who or ("league" if claim.question.subject == "league" else "everybody")
    return f"{safe_name(fold(who), set())}-{claim.kind}"


def save(what: str, claim: Claim, pitches: Any, folder: Path) -> Path:
    """Save one part of an answer; a file that is there already is left, and the new one gets a number.

    Parameters
    ----------
    what
        A key of :data:`SAVED`.
    claim
        The answer.
    pitches
        What it was asked of.
    folder
        Where to.

    Returns
    -------
    pathlib.Path
        The file.

    Raises
    ------
    HitlabError
        Where it cannot be made, or not be written there.
    """
    name, ending, make = SAVED[what]
    with tempfile.TemporaryDirectory(prefix="hitlab-desk-") as aside:
        made = Path(aside) / f"made{ending}"
        make(claim, pitches, made)
        content = made.read_bytes()
    return write_new_file(folder / f"{stem_of(claim)}-{name}{ending}", content)
