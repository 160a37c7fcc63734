"""The card: one checked claim on one picture, ready for a screen, that can be traced and made again.

A card carries in the file what it was made from (kind of claim, hitter, rate, bounds, the fingerprint of the
counts, the package's version); ``read_card`` gives it back. The same claim gives the same bytes: nothing on
it comes from the clock, and letters are drawn as outlines of a font that comes with matplotlib, so that an
SVG looks the same on a machine without it. The words are kept in the file's description.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass, field, fields
from numbers import Real
from os import PathLike, fspath
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, get_args

import pandas as pd

from hitlab import __version__
from hitlab.claims import Claim, Verdict
from hitlab.counting.days import days_words
from hitlab.counting.facts import Conventions
from hitlab.errors import HitlabError
from hitlab.optional import load
from hitlab.questions import KINDS, Question
from hitlab.questions.question import About
from hitlab.questions.source import Source, days_of
from hitlab.showing import json_text, quoted, shown
from hitlab.wording import source_name
from hitlab.writing import files_read, write_file

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["SIZES", "CardFacts", "card", "game_dates", "read_card", "size_of"]

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
        Kind of claim (a key of ``hitlab.questions.KINDS``), and whether it is about the underlying rate or
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
    size: str | tuple[int, int] = "wide",
    dates: str = "",
    page: Literal["claim", "assumptions"] = "claim",
) -> Figure:
    """Put a checked claim on one picture: its headline, the verdict, what that rests on, and the source.

    Parameters
    ----------
    claim
        From one of the ``check_...`` functions.
    path
        Where to write it, as ``.png`` or ``.svg``; not written where not given.
    size
        ``wide`` (1920 by 1080 pixels), ``square`` (1080 by 1080), ``upright`` (1080 by 1920, for a telephone)
        or ``strip`` (1920 by 270, a lower third: a panel with nothing around it, the margin seen through); or
        width and height, laid out as the form of those four that fits best, such as ``(1280, 720)`` or
        ``"1280x720"``. At a quarter of a form's size letters still have 8 pixels.
    dates
        The days of the games, for the source line: ``game_dates(pitches)``.
    page
        ``claim``, or ``assumptions``: a second page that says in words what the first rests on.

    Returns
    -------
    Figure
        The card; ``hitlab.plots.describe(figure.axes[0])`` gives its words.

    Raises
    ------
    HitlabError
        Where the path does not end in .png or .svg, cannot be written, is the file that was read, the size
        is unknown, too small or too large, or a strip has no room for what is asked.
    MissingPackageError
        Where matplotlib is not installed.

    Examples
    --------
    >>> from hitlab import check_above, demo_season
    >>> from hitlab.plots import describe
    >>> season = demo_season()
    >>> claim = check_above(season, "Nadia Izezno", 0.12)
    >>> words = describe(card(claim, dates=game_dates(season)).axes[0])
    >>> print(words.split(". ")[1])
    Most likely
    >>> card(claim, size="strip").get_size_inches() * 100
    array([1920.,  270.])
    """
    target = None if path is None else Path(fspath(path))
    if target is not None and target.suffix.lower() not in (".png", ".svg"):
        raise HitlabError(f"{target}: a card is written as .png or .svg; end the name with one of them")
    width, height, form = size_of(size)
    if page not in ("claim", "assumptions"):
        raise HitlabError(f"page={page!r}: give 'claim' or 'assumptions'")
    if page == "assumptions" and (form == "strip" or width > 4 * height):
        raise HitlabError("a strip has no room for what a claim rests on; give another size")
    matplotlib = load("matplotlib", "cards", "plots")
    from hitlab.plots.alt import describe
    from hitlab.plots.card_picture import Origin, draw_card
    from hitlab.plots.described import described_png, described_svg

    # The caller's own settings come back afterwards; a card does not depend on them.
    with matplotlib.rc_context():
        matplotlib.rcdefaults()
        source = source_name(claim.source)
        origin = Origin(source, dates, claim.fingerprint, __version__)
        figure = draw_card(claim, (width, height), origin, form=form, page=page)
        if target is not None:
            facts = facts_of(claim, source, dates, describe(figure.axes[0]))
            if target.suffix.lower() == ".png":
                made = described_png(
                    figure,
                    facts.claim,
                    facts.alt,
                    f"{facts.source}; counts {facts.fingerprint}",
                    dots_per_inch=_DOTS_PER_INCH,
                    carried={_KEY: _json(facts)},
                )
            else:
                made = described_svg(
                    figure, _KEY, facts.claim, facts.alt, pixels=(width, height), carried=_json(facts)
                )
            write_file(target, made, inputs=(claim.source, *files_read()))
    return figure


SIZES = {"wide": (1920, 1080), "square": (1080, 1080), "upright": (1080, 1920), "strip": (1920, 270)}
"""The sizes that have a name, in pixels."""


def size_of(size: str | tuple[int, int]) -> tuple[int, int, str]:
    """Return width, height and form of a size; the form is empty where it follows from the two.

    Raises
    ------
    HitlabError
        Where it is neither a name nor width and height, or too small or too large.
    """
    if isinstance(size, str):
        name = size.strip().casefold()
        if name in SIZES:
            return *SIZES[name], name
        told = re.fullmatch(r"(\d{1,6})\s*[x×]\s*(\d{1,6})", name)
        if told is None:
            raise HitlabError(
                f"size={quoted(size)}: give {', '.join(SIZES)}, or width and height such as 1280x720"
            )
        size = int(told[1]), int(told[2])
    sides = list(size) if isinstance(size, Iterable) else []
    if len(sides) != 2 or not all(_is_whole(one) and one >= _LEAST_SIDE for one in sides):
        raise HitlabError(f"size={size!r}: give width and height in whole pixels, {_LEAST_SIDE} or more")
    width, height = sides
    if width * height > _MOST_PIXELS:
        raise HitlabError(f"size={size!r}: a card has {_MOST_PIXELS:,} pixels at most, and this is more")
    return int(width), int(height), ""


def _is_whole(side: Any) -> bool:
    return isinstance(side, Real) and float(side).is_integer()


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


def game_dates(pitches: Any, question: Question | None = None) -> str:
    """Return the days from the first to the last of a pitch table: ``April 2 to September 28, 2031``.

    Parameters
    ----------
    pitches
        What ``tally`` takes: a checked file's path, a ``Reading`` or a frame.
    question
        Where it asks for a season, the days are those of that season.

    Returns
    -------
    dates
        Empty where the table has no ``date`` or none is recorded.

    Examples
    --------
    >>> from hitlab import demo_season
    >>> game_dates(demo_season())
    'April 3 to June 23, 2031'
    """
    if question is not None and question.season:
        pitches = Source.of(question, pitches).asked_of
    ends = days_of(pitches)
    if ends is None:
        return ""
    return days_words(*ends)
