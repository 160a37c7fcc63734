"""Who is meant by a name: one rule for every place where somebody types one.

Six kinds of match are tried in turn, and the first that fits anybody decides: the id, the label, the name as
they stand; the same three folded (case, accents, hyphens, apostrophes and full stops do not matter); then
some words of the name, in any order: a surname, a first name, ``Izezno, Nadia``. Where a kind fits several
people, none is taken and all are offered. A spelling that is merely near is offered and never taken.
"""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from hitlab.errors import UnknownHitterError
from hitlab.showing import quoted, shown_name

__all__ = ["find_name", "find_places", "fold", "named", "split_names", "told_apart", "words_of"]

_PLAIN = str.maketrans(
    {"æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ħ": "h", "ŧ": "t"}
    | {"ŋ": "n", "ı": "i"}
)
"""Letters that decomposition leaves whole, and what somebody types whose keyboard lacks them."""

_MARKS = str.maketrans(dict.fromkeys("'`´’‘ʼʻ\u00ad") | dict.fromkeys(".-‐‑‒–—−", " "))
_BETWEEN = str.maketrans(dict.fromkeys("(),;", " "))  # between the words of a label
_MOST_OFFERED = 8
_NEAREST, _NEAR = 3, 60  # spellings offered, and how alike they have to be, of 100


def fold(text: Any) -> str:
    """Return a name without case, accents, hyphens, apostrophes, full stops and needless blanks.

    Initials come out as one word however they were written: ``J.P.``, ``J. P.`` and ``JP`` are ``jp``.
    """
    plain = str(text).translate(_MARKS).casefold()
    if not plain.isascii():
        for _ in range(2):  # decomposing can bring forth capitals and apostrophes, and the other way round
            plain = unicodedata.normalize("NFKD", plain.translate(_MARKS).casefold())
        plain = "".join(letter for letter in plain if not _accent(letter)).casefold()
        plain = plain.translate(_MARKS).translate(_PLAIN)
    words: list[str] = []
    initials = False
    for word in plain.split():
        one = len(word) == 1 and word.isalpha()
        if one and initials:
            words[-1] += word
        else:
            words.append(word)
        initials = one
    return " ".join(words)


def told_apart(labels: Iterable[str], *more: Iterable[str]) -> list[str]:
    """Return labels with what tells those apart that are alike: the club, and where that is alike the id.

    Examples
    --------
    >>> told_apart(["Ada Yarl", "Bea Plome", "Ada Yarl"], ["Kites", "Kites", "Larks"])
    ['Ada Yarl (Kites)', 'Bea Plome', 'Ada Yarl (Larks)']
    """
    told = list(labels)
    for extra in more:
        seen = Counter(told)
        if len(seen) == len(told):
            break
        told = [
            f"{label} ({one})" if seen[label] > 1 and one else label
            for label, one in zip(told, extra, strict=True)
        ]
    return told


def _accent(letter: str) -> bool:
    """Tell marks that people leave out (accents, points of vowels) from those that make another letter."""
    kind = unicodedata.combining(letter)  # 7 to 9 voice a kana or join consonants, 84 to 132 are vowels
    return kind == 1 or 10 <= kind <= 36 or kind >= 200


def find_name(
    wanted: str,
    labels: Iterable[str],
    *,
    ids: Iterable[Any] | None = None,
    names: Iterable[Any] | None = None,
    what: str = "hitter",
    where: str = "here",
) -> int:
    """Return the place of the one who is meant.

    Parameters
    ----------
    wanted
        What somebody typed: id, label, name, or some words of the name.
    labels
        What each row is called where it has to be told from the others, such as ``Ada Yarl (Larks)``.
    ids, names
        Of the same rows, where there are any; missing ones match nothing. Rows with the same id are one
        person, whose first row is returned.
    what
        What is looked for, in the messages: ``hitter``, ``pitcher``, ``club``.
    where
        Where it is looked for, in the messages: ``here``, ``on this picture``.

    Raises
    ------
    UnknownHitterError
        Where nobody fits (the nearest spellings are offered), several do (they are), or nothing was typed.
    """
    return find_places(wanted, labels, ids=ids, names=names, what=what, where=where)[0]


def find_places(
    wanted: str,
    labels: Iterable[str],
    *,
    ids: Iterable[Any] | None = None,
    names: Iterable[Any] | None = None,
    what: str = "hitter",
    where: str = "here",
) -> list[int]:
    """Return every place that fits, all of them rows of one person; as in :func:`find_name` otherwise."""
    wanted = str(wanted)
    if not wanted.strip():
        raise UnknownHitterError(f"no {what} was named: give a name, a part of it, or an id")
    labels = list(labels)
    told = [_told(column, len(labels)) for column in (ids, labels, names)]
    for form in (str, fold):
        text = form(wanted)
        for column in told:
            places = [
                place for place, value in enumerate(column) if value is not None and form(value) == text
            ]
            if text and places:
                return _one_person(places, wanted, told, what, "are called")
    places = _by_words(wanted, told)
    if places:
        return _one_person(places, wanted, told, what, "fit")
    from rapidfuzz import process

    there = list(dict.fromkeys(labels))
    near = process.extract(wanted, there, processor=fold, limit=_NEAREST, score_cutoff=_NEAR)
    are = "is" if len(near) == 1 else "are"
    offer = f"; the nearest {are} {', '.join(_shown(label) for label, _, _ in near)}" if near else ""
    nobody = f"nobody {where}" if what == "hitter" else f"no {what} {where}"
    count = "is 1 name" if len(there) == 1 else f"are {len(there):,} names"
    raise UnknownHitterError(f"{nobody} is called {quoted(wanted)}{offer}. There {count} in all")


def named(words: Sequence[str]) -> str:
    """Join the words of one name that was typed without quotation marks.

    Raises
    ------
    UnknownHitterError
        Where there is no word.
    """
    name = " ".join(" ".join(words).split())
    if not name:
        raise UnknownHitterError("nobody was named: give a name, a part of it, or an id")
    return name


def split_names(words: Sequence[str], find: Callable[[str], int]) -> tuple[str, str]:
    """Cut words that were typed without quotation marks into two names.

    Parameters
    ----------
    words
        Such as ``["Nadia", "Izezno", "Ada", "Mondezno"]``; a word may hold a name in full.
    find
        Returns the place of a name, or raises ``UnknownHitterError``, such as ``find_name`` with its labels.

    Raises
    ------
    UnknownHitterError
        Where no cut, or more than one, leaves one person on either side, and not the same.
    """
    if len(words) < 2:
        raise UnknownHitterError(f"two names are needed, and there is {' '.join(words)!r} alone")
    cuts, failed = [], []
    for at in range(1, len(words)):
        sides = named(words[:at]), named(words[at:])
        places, errors, found = [], [], 0
        for side in sides:
            try:
                places.append(find(side))
                found = len(side.split())
            except UnknownHitterError as error:
                errors.append(str(error))
        if errors:
            failed.append((found if len(errors) == 1 else 0, errors[0]))
        elif places[0] != places[1]:
            cuts.append(sides)
    if len(cuts) == 1:
        return cuts[0]
    typed, mend = " ".join(words), "Put quotation marks around each name"
    if cuts:
        ways = "; ".join(f"{first!r} and {second!r}" for first, second in cuts)
        raise UnknownHitterError(f"{typed!r} can be two names in {len(cuts)} ways: {ways}. {mend}")
    if not failed:
        raise UnknownHitterError(f"both names in {typed!r} are the same hitter's. Name two")
    # The cut with the longest name that was found is what was meant: say what is wrong with the other name.
    found, why = max(failed, key=lambda cut: cut[0])
    why = why if found else f"no part of it is one hitter's name ({why})"
    raise UnknownHitterError(f"{typed!r} is not two names: {why}. {mend}")


def _shown(name: Any) -> str:
    return shown_name(name)


def _told(column: Iterable[Any] | None, rows: int) -> list[str | None]:
    """Return a column as texts, None where it is missing: NaN and pandas' NA are not themselves."""
    if column is None:
        return [None] * rows
    texts: list[str | None] = []
    for value in column:
        text = str(value)
        missing = value is None or (not isinstance(value, str) and text in ("nan", "<NA>", "NaT"))
        texts.append(None if missing else text)
    return texts


def _by_words(wanted: str, told: list[list[str | None]]) -> list[int]:
    """Return the places among whose words all that were typed stand, and at least one in the name itself."""
    typed = words_of(wanted)
    places = []
    for place, (own, label, name) in enumerate(zip(*told, strict=True)):
        of_name = words_of(name if name is not None else (label or "").partition(" (")[0])
        of_label = of_name if label == name else of_name | words_of(label or "")
        beside = Counter() if own is None else words_of(f"id {own}")  # as the choices of an error show it
        if typed and typed & of_name and typed <= of_label + (beside - of_label):
            places.append(place)
    return places


def words_of(text: str) -> Counter[str]:
    """Return the folded words of a label; brackets, commas and semicolons stand between words."""
    return Counter(fold(text.translate(_BETWEEN)).split())


def _one_person(
    places: list[int], wanted: str, told: list[list[str | None]], what: str, verb: str
) -> list[int]:
    """Return the places where they are one person's, or raise with the people."""
    ids, labels, names = told
    people = {place if ids[place] is None else ids[place]: place for place in reversed(places)}
    if len(people) == 1:
        return places
    choices, by_id = [], False
    for place in sorted(people.values()):
        known = ids[place] not in (None, labels[place], names[place])
        by_id |= known
        choices.append(_shown(labels[place]) + (f" (id {_shown(ids[place])})" if known else ""))
    more = f" and {len(choices) - _MOST_OFFERED:,} more" if len(choices) > _MOST_OFFERED else ""
    mend = "Give the id instead" if by_id else "Give one of them as it stands"
    raise UnknownHitterError(
        f"{len(people):,} {what}s {verb} {quoted(wanted)}: {', '.join(choices[:_MOST_OFFERED])}{more}. {mend}"
    )
