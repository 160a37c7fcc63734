"""The card: one checked claim on one picture, ready for a screen, that can be traced and made again.

A card carries in the file what it was made from (kind of claim, hitter, rate, bounds, the fingerprint of the
counts, the package's version); ``read_card`` gives it back. The same claim gives the same bytes: nothing on
it comes from the clock, and letters are drawn as outlines of a font that comes with matplotlib, so that an
SVG looks the same on a machine without it. The words are kept in the file's description.
"""

from __future__ import annotations

import io
import json
import re
from dataclasses import dataclass, field, fields
from html import escape
from os import PathLike, fspath
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pandas as pd

from hitlab import __version__
from hitlab.claims import Claim, Question
from hitlab.claims.source import days_of
from hitlab.errors import HitlabError
from hitlab.optional import load
from hitlab.wording import source_name
from hitlab.writing import write_file

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["CardFacts", "card", "game_dates", "read_card"]

_KEY = "hitlab-card"
_DOTS_PER_INCH = 100
_LEAST_SIDE = 200


@dataclass(frozen=True, slots=True)
class CardFacts:
    """What a card was made from.

    Attributes
    ----------
    kind, about
        Kind of claim (a key of ``hitlab.claims.KINDS``), and whether it is about the underlying rate or
        the record.
    claim, say, verdict, chance
        As on the claim.
    question
        What was asked, as plain values; ``asked`` gives it back as a question.
    source, dates, fingerprint
        The file's name or the table, the days of the games where known, and the fingerprint of the counts.
    version
        Version of the package.
    alt
        The card in words.
    """

    kind: str
    about: str
    claim: str
    say: str
    verdict: str
    chance: float | None
    source: str
    dates: str
    fingerprint: str
    version: str
    alt: str
    question: dict[str, Any] = field(default_factory=dict)

    @property
    def asked(self) -> Question:
        """The question; ``facts.asked.ask(pitches)`` answers it again."""
        return Question.from_dict(self.question)

    @property
    def call(self) -> str:
        """The line of Python that asks it again; the table that was asked is yours to give."""
        told = dict(self.question)
        conventions = told.pop("conventions", None)
        parts = [f"{name}={value!r}" for name, value in told.items()]
        if conventions:
            parts.append(f"conventions=Conventions(**{conventions!r})")
        return f"Question({', '.join(parts)}).ask(table)"

    def table(self) -> pd.DataFrame:
        """Return everything as a frame of two columns."""
        facts = {each.name: getattr(self, each.name) for each in fields(self) if each.name != "question"}
        return pd.DataFrame(
            {"fact": [*facts, *self.question], "value": [*facts.values(), *self.question.values()]}
        )

    def __str__(self) -> str:
        return (
            f"{self.say}\n  {self.verdict}; source {self.source}, counts {self.fingerprint}, "
            f"hitlab {self.version}\n  again: {self.call}"
        )


def card(
    claim: Claim,
    path: str | PathLike[str] | None = None,
    *,
    size: tuple[int, int] = (1920, 1080),
    dates: str = "",
) -> Figure:
    """Put a checked claim on one picture.

    Parameters
    ----------
    claim
        From one of the ``check_...`` functions.
    path
        Where to write it, as ``.png`` or ``.svg``; not written where not given.
    size
        Width and height in pixels.
    dates
        The days of the games, for the source line: ``game_dates(pitches)``.

    Returns
    -------
    Figure
        The card; ``hitlab.plots.describe(figure.axes[0])`` gives its words.

    Raises
    ------
    HitlabError
        Where the path does not end in .png or .svg, cannot be written, or the size is too small.
    MissingPackageError
        Where matplotlib is not installed.
    """
    target = None if path is None else Path(fspath(path))
    if target is not None and target.suffix.lower() not in (".png", ".svg"):
        raise HitlabError(f"{target}: a card is written as .png or .svg; end the name with one of them")
    width, height = size
    if min(size) < _LEAST_SIDE or int(width) != width or int(height) != height:
        raise HitlabError(f"size={size!r}: give width and height in whole pixels, {_LEAST_SIDE} or more")
    matplotlib = load("matplotlib", "cards", "plots")
    from hitlab.plots.alt import describe
    from hitlab.plots.card_picture import draw_card

    # The caller's own settings come back afterwards; a card does not depend on them.
    with matplotlib.rc_context():
        matplotlib.rcdefaults()
        source = source_name(claim.source)
        figure = draw_card(claim, (int(width), int(height)), _source_line(claim, source, dates))
        if target is not None:
            facts = facts_of(claim, source, dates, describe(figure.axes[0]))
            matplotlib.rcParams["svg.fonttype"] = "path"
            matplotlib.rcParams["svg.hashsalt"] = _KEY
            made = _png(figure, facts) if target.suffix.lower() == ".png" else _svg(figure, facts, size)
            write_file(target, made, inputs=(claim.source,))
    return figure


def _source_line(claim: Claim, source: str, dates: str) -> str:
    days = f"games {dates}" if dates else "days of the games not given"
    return f"Source: {source}, {days}. Counts {claim.fingerprint}, hitlab {__version__}."


def facts_of(claim: Claim, source: str, dates: str, alt: str) -> CardFacts:
    """Take from a claim what its card has to carry."""
    return CardFacts(
        claim.kind,
        claim.about,
        claim.claim,
        claim.say,
        claim.verdict,
        claim.chance,
        source,
        dates,
        claim.fingerprint,
        __version__,
        alt,
        claim.question.to_dict(),
    )


def _json(facts: CardFacts) -> str:
    return json.dumps({each.name: getattr(facts, each.name) for each in fields(facts)}, ensure_ascii=False)


def _png(figure: Figure, facts: CardFacts) -> bytes:
    held = io.BytesIO()
    metadata = {
        "Title": facts.claim,
        "Description": facts.alt,
        "Source": f"{facts.source}; counts {facts.fingerprint}",
        "Software": f"hitlab {facts.version}",
        _KEY: _json(facts),
    }
    figure.savefig(held, format="png", dpi=_DOTS_PER_INCH, metadata=metadata)
    return held.getvalue()


def _svg(figure: Figure, facts: CardFacts, size: tuple[int, int]) -> bytes:
    held = io.BytesIO()
    figure.savefig(held, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    text = held.getvalue().decode()
    text = re.sub(r"<metadata>.*?</metadata>", "", text, count=1, flags=re.S)
    head = re.search(r"<svg [^>]*>", text)
    assert head is not None
    opened = re.sub(r'width="[^"]*"', f'width="{size[0]}"', head.group(), count=1)
    opened = re.sub(r'height="[^"]*"', f'height="{size[1]}"', opened, count=1)
    opened = opened.replace("<svg ", f'<svg role="img" aria-labelledby="{_KEY}-title {_KEY}-words" ', 1)
    words = (
        f'\n <title id="{_KEY}-title">{escape(facts.claim)}</title>'
        f'\n <desc id="{_KEY}-words">{escape(facts.alt)}</desc>'
        f'\n <metadata id="{_KEY}">{escape(_json(facts), quote=False)}</metadata>'
    )
    return (text[: head.start()] + opened + words + text[head.end() :]).encode()


def read_card(path: str | PathLike[str]) -> CardFacts:
    """Read what a card was made from, to trace it to its data and to make it again.

    Parameters
    ----------
    path
        A file written by ``card``.

    Raises
    ------
    HitlabError
        Where the file cannot be read or is not a card of this package.
    """
    source = Path(fspath(path))
    try:
        text = _from_svg(source) if source.suffix.lower() == ".svg" else _from_png(source)
        found = json.loads(text)
        return CardFacts(**found)
    except OSError as error:
        raise HitlabError(f"{source} cannot be read: {error.strerror or error}") from error
    except (KeyError, TypeError, ValueError, SyntaxError) as error:
        raise HitlabError(
            f"{source} carries no facts of a card; give a .png or .svg as hitlab wrote it, not saved again"
        ) from error


def _from_png(path: Path) -> str:
    from PIL import Image, UnidentifiedImageError

    try:
        image = Image.open(path)
    except UnidentifiedImageError as error:  # an OSError, but the file was read
        raise ValueError(str(path)) from error
    with image:
        image.load()
        return str(image.text[_KEY])  # type: ignore[attr-defined]


def _from_svg(path: Path) -> str:
    from xml.etree import ElementTree

    found = ElementTree.parse(path).find(f".//*[@id='{_KEY}']")
    if found is None or found.text is None:
        raise KeyError(_KEY)
    return found.text


def game_dates(pitches: Any) -> str:
    """Return the first and last day in a pitch table: ``2031-04-02 to 2031-09-28``.

    Parameters
    ----------
    pitches
        What ``tally`` takes: a checked file's path, a ``Reading`` or a frame.

    Returns
    -------
    dates
        Empty where the table has no ``date`` or none is recorded.
    """
    ends = days_of(pitches)
    if ends is None:
        return ""
    first, last = (f"{day:%Y-%m-%d}" for day in ends)
    return first if first == last else f"{first} to {last}"
