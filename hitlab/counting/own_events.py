"""The caller's own events: what may stand for "these pitches", and what each becomes.

The same forms are taken by ``events=`` and ``where=``: a narwhals expression, a Boolean mask of the caller's
frame, the name of a Boolean column, a :class:`Situation`, or its text. Anything else is refused before any
counting. As an event the text may name a count first: ``swings at balls=0 strikes=0``, ``takes in the zone``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import narwhals as nw
import numpy as np

from hitlab.counting.days import demand_days
from hitlab.counting.events import EVENTS
from hitlab.counting.situations import NAMED, Situation, situation
from hitlab.errors import ClaimError, CountsError, MissingColumnsError

__all__ = [
    "Own",
    "Pitches",
    "Wanted",
    "attached",
    "base_and_situation",
    "chosen_text",
    "restricted",
    "understood",
]

Pitches = Any
"""A narwhals expression, a Boolean mask, the name of a Boolean column, a situation, or its text."""

_FORMS = (
    "give a narwhals expression, a Boolean mask as long as the table, the name of a Boolean column, a "
    'situation, or its text such as "strikes=2"'
)
_TERMS = re.compile(r"\s*;\s*|,?\s+(?:and\s+)?(?=[A-Za-z_]\w*\s*(?:>=|<=|=))")
_NAMES = "|".join(name for name in NAMED if " " in name)  # of one word it may belong to somebody's name
_NAME_BEHIND = re.compile(rf"(\w+\s*[<>]?=.*?[^\s,]),?(?:\s+and)?\s+({_NAMES})", re.IGNORECASE)
_JOINED = re.compile(r"^(?:at|where|when)\s+")
_FLAG = "chosen_by_the_caller_"


@dataclass(frozen=True, slots=True)
class Own:
    """What is known of a caller's own event once it is counted.

    Attributes
    ----------
    within
        The counts that all of it lies within, in this table.
    contains
        The counts all of which lie within it, in this table.
    unknown, contact
        For an event about hardness: the counts of the contact of unknown hardness that belongs to it, and of
        the contact itself.
    """

    within: tuple[str, ...]
    contains: tuple[str, ...] = ()
    unknown: str = ""
    contact: str = ""


@dataclass(frozen=True, slots=True)
class Wanted:
    """Pitches that somebody chose.

    Attributes
    ----------
    flag
        An expression, true for the pitches.
    base
        The count that the pitches are a part of, or nothing.
    situation
        The situation, where it is one.
    """

    flag: nw.Expr
    base: str = ""
    situation: Situation | None = None

    @property
    def rests_on(self) -> frozenset[str]:
        """The columns that tell it, as far as they are known."""
        told = EVENTS[self.base].rests_on if self.base else frozenset[str]()
        return told if self.situation is None else told | set(self.situation.columns)


def base_and_situation(text: str) -> tuple[str, Situation | None]:
    """Read a text such as ``swings at balls=0 strikes=0`` or ``takes in the zone``.

    Returns
    -------
    base, situation
        The count it begins with (empty where it is a situation only), and the rest (``None`` where it is the
        count alone).

    Raises
    ------
    ClaimError
        Where the rest is no situation.

    Examples
    --------
    >>> base, rest = base_and_situation("swings at balls=0 strikes=0")
    >>> base, rest.words
    ('swings', 'with no balls and no strikes')
    """
    plain = " ".join(text.split())
    names = {name: name for name in EVENTS} | {event.many: name for name, event in EVENTS.items()}
    for words in sorted(names, key=len, reverse=True):
        if plain.casefold() == words.casefold():
            return names[words], None
        if plain.casefold().startswith(f"{words.casefold()} "):
            rest = _JOINED.sub("", plain[len(words) + 1 :])
            return names[words], situation(*_terms(rest))
    return "", situation(*_terms(plain))


def _terms(text: str) -> list[str]:
    """Take a text apart into terms, names that follow a value without a semicolon among them."""
    found: list[str] = []
    for term in _TERMS.split(text):
        names: list[str] = []
        while apart := _NAME_BEHIND.fullmatch(term):
            term = apart[1]
            names.insert(0, apart[2])
        found += [term, *names]
    return found


def restricted(text: str) -> bool:
    """Say whether the text of a count has more to it than a name."""
    return text not in EVENTS and bool(re.search(r"[=\s]", text.strip()))


def chosen_text(text: str) -> str:
    """Return the name under which a count is found: as it is, or in words where a situation restricts it."""
    if not restricted(text):
        return text.strip()
    base, rest = base_and_situation(text)
    if not base:
        raise ClaimError(f"{text!r} names no count; write for example swings at {text}")
    return base if rest is None else f"{EVENTS[base].many} {rest.words}"


def understood(name: str, form: Pitches, frame: Any, columns: set[str]) -> Wanted:
    """Return what a form chooses of a frame.

    Parameters
    ----------
    name
        What to call it in messages, such as ``where`` or ``events['mine']``.
    form
        Any of the accepted forms but a mask, which :func:`attached` turns into a column first.
    frame
        A narwhals frame.
    columns
        Its columns.

    Raises
    ------
    CountsError
        Where it is none of the forms, or is not true or false.
    MissingColumnsError
        Where it asks for a column that is not there.
    ClaimError
        Where a text is no situation.
    ReadingError
        Where it asks for days, and the table has texts in their place.
    """
    if isinstance(form, Situation):
        return _of_situation(name, "", form, frame, columns)
    if isinstance(form, str):
        if form in columns:
            return Wanted(_boolean(name, nw.col(form), frame))
        base, rest = base_and_situation(form)
        if rest is None:
            raise CountsError(f"{name}={form!r} is a count already; give a situation with it")
        return _of_situation(name, base, rest, frame, columns)
    if isinstance(form, nw.Expr):
        return Wanted(_boolean(name, form, frame))
    raise CountsError(f"{name} is a {type(form).__name__}; {_FORMS}")


def _of_situation(name: str, base: str, asked: Situation, frame: Any, columns: set[str]) -> Wanted:
    absent = [column for column in asked.columns if column not in columns]
    if absent:
        mend = "; with_previous(pitches) adds it" if absent[0] == "previous_whiff" else ""
        raise MissingColumnsError(f"{name} needs the column {absent[0]}, which the table does not have{mend}")
    if "date" in asked.columns:
        demand_days(frame)
    if base and not EVENTS[base].share:
        raise CountsError(f"{name}: {base} count more than once a pitch and cannot be restricted")
    return Wanted(asked.on(columns), base, asked)


def _boolean(name: str, expression: nw.Expr, frame: Any) -> nw.Expr:
    """Refuse an expression that is not true or false for a pitch."""
    try:
        kind = frame.select(expression.alias(_FLAG)).collect_schema()[_FLAG]
        if frame.implementation.is_dask():
            _demand_aligned(name, expression, frame)
    except CountsError:
        raise
    except Exception as error:  # each engine has errors of its own
        raise CountsError(f"{name} cannot be worked out on this table: {error}") from error
    if kind == nw.Object and not isinstance(frame, nw.LazyFrame):  # pandas keeps True, False and None so
        values = frame.select(expression.alias(_FLAG))[_FLAG].to_list()
        if all(value is None or value != value or isinstance(value, bool | np.bool_) for value in values):
            return expression
    if kind != nw.Boolean:
        raise CountsError(f"{name} gives {kind} and not true or false; {_FORMS}")
    return expression


def _demand_aligned(name: str, expression: nw.Expr, frame: Any) -> None:
    """Refuse what Dask gives in another order than the rows, which it would then hold against other rows."""
    try:
        frame.with_columns(nw.when(expression).then(nw.col(frame.collect_schema().names()[0])).alias(_FLAG))
    except RuntimeError as error:
        raise CountsError(
            f"{name} asks of several rows together, as over() does, and Dask gives that in another order "
            "than its rows. Make it a column while each game is in one partition, "
            "pitches.map_partitions(lambda part: part.assign(mine=...)), and give that column's name: 'mine'"
        ) from error


def attached(frame: Any, forms: Mapping[str, Pitches]) -> tuple[Any, dict[str, Pitches]]:
    """Put masks into the frame as columns.

    Returns
    -------
    frame, forms
        The forms without masks: the names of the new columns stand for them.

    Raises
    ------
    CountsError
        Where a mask is not Boolean or not as long as the table, or the table is not in memory.
    """
    told: dict[str, Pitches] = {}
    for number, (name, form) in enumerate(forms.items()):
        if isinstance(form, str | Situation | nw.Expr) or not _is_mask(form):
            told[name] = form
            continue
        if isinstance(frame, nw.LazyFrame):
            raise CountsError(f"{name} is a mask and the table is not in memory; give an expression instead")
        mask = _mask(name, form)
        if len(mask) != len(frame):
            raise CountsError(
                f"{name} is a mask of {len(mask):,} values and the table has {len(frame):,} rows; it has to "
                "be of this table"
            )
        column = f"{_FLAG}{number}"
        series = nw.new_series(column, mask, nw.Boolean, backend=frame.implementation)
        if hasattr(native := nw.to_native(frame), "index"):  # pandas would put rows together by their labels
            aligned = nw.to_native(series)
            aligned.index = native.index
            series = nw.from_native(aligned, series_only=True)
        frame = frame.with_columns(series.alias(column))
        told[name] = column
    return frame, told


def _is_mask(form: Any) -> bool:
    return isinstance(form, Sequence) or (hasattr(form, "__len__") and hasattr(form, "dtype"))


def _mask(name: str, form: Any) -> list[bool]:
    values = form.to_list() if hasattr(form, "to_list") else list(np.asarray(form).tolist())
    plain = [False if value is None or value != value else value for value in values]
    if any(not isinstance(value, bool) for value in plain):
        odd = next(value for value in plain if not isinstance(value, bool))
        raise CountsError(f"{name} holds {odd!r}; a mask is true or false for each pitch")
    return plain
