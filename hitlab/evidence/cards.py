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
from typing import TYPE_CHECKING, Any, get_args

import pandas as pd

from hitlab import __version__
from hitlab.claims import KINDS, Claim, Question, Verdict
from hitlab.claims.question import About
from hitlab.claims.source import days_of
from hitlab.counting.facts import Conventions
from hitlab.errors import HitlabError
from hitlab.optional import load
from hitlab.showing import json_text, quoted, shown
from hitlab.wording import source_name
from hitlab.writing import files_read, write_file

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["CardFacts", "card", "game_dates", "read_card"]

_KEY = "hitlab-card"
_DOTS_PER_INCH = 100
_LEAST_SIDE = 200
_MOST_PIXELS = 50_000_000  # more than any screen has, 7,680 by 4,320
_MOST_BYTES = 64_000_000  # of a card's file
_MOST_TEXT = 1_000_000  # characters of the facts in it; those of real cards take some thousand
_PNG = b"\x89PNG\r\n\x1a\n"


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
        """The line of Python that asks it again; the table that was asked is yours to give.

        It is built from the question's own fields and from plain values, whatever the file holds.
        """
        told = self.asked.to_dict()
        conventions = told.pop("conventions", None)
        parts = [f"{name}={value!r}" for name, value in told.items()]
        if conventions:
            counted = ", ".join(f"{name}={value!r}" for name, value in conventions.items())
            parts.append(f"conventions=Conventions({counted})")
        return f"Question({', '.join(parts)}).ask(table)"

    def table(self) -> pd.DataFrame:
        """Return everything as a frame of two columns."""
        facts = {each.name: getattr(self, each.name) for each in fields(self) if each.name != "question"}
        return pd.DataFrame(
            {"fact": [*facts, *self.question], "value": [*facts.values(), *self.question.values()]}
        )

    def __str__(self) -> str:
        made = f"{self.verdict}; source {self.source}, counts {self.fingerprint}, hitlab {self.version}"
        return f"{shown(self.say)}\n  {shown(made)}\n  again: {shown(self.call)}"


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
        Where the path does not end in .png or .svg, cannot be written, is the file that was read, or the size
        is too small or too large.
    MissingPackageError
        Where matplotlib is not installed.

    Examples
    --------
    >>> from hitlab import check_above, demo_season
    >>> from hitlab.plots import describe
    >>> season = demo_season()
    >>> claim = check_above(season, "Nadia Izezno", 0.12)
    >>> words = describe(card(claim, dates=game_dates(season)).axes[0])
    >>> print(words.split(". ")[0])
    HOLDS (chance more than 99 %; it holds from 90 % and does not hold up to 10 %)
    """
    target = None if path is None else Path(fspath(path))
    if target is not None and target.suffix.lower() not in (".png", ".svg"):
        raise HitlabError(f"{target}: a card is written as .png or .svg; end the name with one of them")
    width, height = size
    if min(size) < _LEAST_SIDE or int(width) != width or int(height) != height:
        raise HitlabError(f"size={size!r}: give width and height in whole pixels, {_LEAST_SIDE} or more")
    if width * height > _MOST_PIXELS:
        raise HitlabError(f"size={size!r}: a card has {_MOST_PIXELS:,} pixels at most, and this is more")
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
            write_file(target, made, inputs=(claim.source, *files_read()))
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
        claim.say_in_full,
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
    return json_text({each.name: getattr(facts, each.name) for each in fields(facts)})


def _png(figure: Figure, facts: CardFacts) -> bytes:
    held = io.BytesIO()
    metadata = {
        "Title": shown(facts.claim),
        "Description": shown(facts.alt),
        "Source": shown(f"{facts.source}; counts {facts.fingerprint}"),
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
        f'\n <title id="{_KEY}-title">{escape(shown(facts.claim))}</title>'
        f'\n <desc id="{_KEY}-words">{escape(shown(facts.alt))}</desc>'
        f'\n <metadata id="{_KEY}">{escape(_json(facts), quote=False)}</metadata>'
    )
    return (text[: head.start()] + opened + words + text[head.end() :]).encode()


def read_card(path: str | PathLike[str]) -> CardFacts:
    """Read what a card was made from, to trace it to its data and to make it again.

    Nothing in the file is taken on trust: what it holds is a question of a known kind, asked by names that
    this kind has and by plain values, or it is refused. No picture is unpacked for it.

    Parameters
    ----------
    path
        A file written by ``card``.

    Returns
    -------
    CardFacts
        What the card carries.

    Raises
    ------
    HitlabError
        Where the file cannot be read, is too large, is not a card of this package, or asks what no kind of
        claim is asked.

    Examples
    --------
    >>> import tempfile
    >>> from hitlab import check_above, demo_season
    >>> claim = check_above(demo_season(), "Nadia Izezno", 0.12)
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     _ = card(claim, Path(folder) / "card.svg")
    ...     facts = read_card(Path(folder) / "card.svg")
    >>> facts.kind, facts.asked == claim.question
    ('above', True)
    """
    source = Path(fspath(path))
    named = shown(source)
    try:
        if source.stat().st_size > _MOST_BYTES:
            raise HitlabError(f"{named} has more than {_MOST_BYTES:,} bytes, so it is no card")
        text = _from_svg(source) if source.suffix.lower() == ".svg" else _from_png(source)
        if len(text) > _MOST_TEXT:
            raise HitlabError(f"{named} carries more than {_MOST_TEXT:,} characters, so it is no card")
        return _facts_from(json.loads(text, parse_constant=_no_number))
    except HitlabError as error:
        raise HitlabError(str(error) if named in str(error) else f"{named}: {error}") from error
    except OSError as error:
        raise HitlabError(f"{named} cannot be read: {error.strerror or error}") from error
    except (KeyError, TypeError, ValueError, SyntaxError, RecursionError) as error:
        raise HitlabError(
            f"{named} carries no facts of a card; give a .png or .svg as hitlab wrote it, not saved again"
        ) from error


def _no_number(name: str) -> float:
    raise ValueError(f"{name} is no number of a card")


def _facts_from(found: Any) -> CardFacts:
    """Take facts from what a file holds, each of its own type, and the question one that can be asked.

    Raises
    ------
    HitlabError
        Where the kind or what it is asked by is not known.
    TypeError, ValueError
        Where it is nothing of the kind.
    """
    facts = CardFacts(**found)
    told = {each.name: getattr(facts, each.name) for each in fields(facts)}
    question, chance = told.pop("question"), told.pop("chance")
    if not all(isinstance(value, str) for value in told.values()) or not isinstance(question, dict):
        raise TypeError("not the facts of a card")
    if chance is not None and (isinstance(chance, bool) or not 0 <= float(chance) <= 1):
        raise ValueError("a chance is from 0 to 1")
    if facts.about not in get_args(About) or facts.verdict not in get_args(Verdict):
        raise ValueError("no such verdict")
    _demand_a_question(facts.kind, question)
    return facts


def _demand_a_question(kind: str, question: dict[str, Any]) -> None:
    """Refuse what is no question of a known kind, by the names that it is asked by and by plain values."""
    if kind not in KINDS or question.get("kind") != kind:
        raise HitlabError(f"it is of the kind {quoted(kind)}, and this version knows: {', '.join(KINDS)}")
    counted, options = question.get("conventions", {}), question.get("options", {})
    known = (
        ("field", question, {each.name for each in fields(Question)}),
        ("convention", counted, {each.name for each in fields(Conventions)}),
        ("option", options, set(KINDS[kind].options)),
    )
    for what, told, names in known:
        if not isinstance(told, dict):
            raise TypeError(f"{what}s are told by name")
        strange = next((name for name in told if name not in names), None)
        if strange is not None:
            raise HitlabError(f"a question of the kind {kind!r} has no {what} {quoted(strange)}")
    usual = Question(kind=kind)
    for name, value in question.items():
        if name in ("conventions", "options"):
            continue
        meant = getattr(usual, name)
        accepted: tuple[type, ...] = (type(meant),)
        if isinstance(meant, float):
            accepted = (float, int)
        elif isinstance(meant, tuple) or name == "prior":
            accepted = (list, tuple)
        elif name == "minimum":
            accepted = (int,)
        if not isinstance(value, accepted) or (isinstance(value, bool) and not isinstance(meant, bool)):
            raise TypeError(f"{name} is of another type")
    if not all(isinstance(term, str) for term in question.get("when", ())):
        raise TypeError("terms are texts")
    Question.from_dict(question)


def _from_png(path: Path) -> str:
    from PIL import Image, PngImagePlugin, UnidentifiedImageError

    with path.open("rb") as file:
        start = file.read(24)
        if not start.startswith(_PNG) or start[12:16] != b"IHDR":
            raise ValueError(str(path))
        # Said by the file's first bytes, and looked at before a picture is made of it.
        width, height = int.from_bytes(start[16:20]), int.from_bytes(start[20:24])
        if width * height > _MOST_PIXELS:
            raise HitlabError(
                f"it is a picture of {width:,} by {height:,} pixels, more than the {_MOST_PIXELS:,} that a "
                "card has at most"
            )
        file.seek(0)
        try:
            # Opening reads up to the picture and unpacks none of it; texts come before it in a card.
            with Image.open(file, formats=("PNG",)) as image:
                assert isinstance(image, PngImagePlugin.PngImageFile)
                return str(image.info[_KEY])
        except UnidentifiedImageError as error:  # an OSError, but the file was read
            raise ValueError(str(path)) from error


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

    Examples
    --------
    >>> from hitlab import demo_season
    >>> game_dates(demo_season())
    '2031-04-03 to 2031-06-23'
    """
    ends = days_of(pitches)
    if ends is None:
        return ""
    first, last = (f"{day:%Y-%m-%d}" for day in ends)
    return first if first == last else f"{first} to {last}"
