"""Holds a learner's sentence against the list of what it has to say."""

from __future__ import annotations

import re
from dataclasses import dataclass

from hitlab.exercises.accounting import not_accounted, not_given
from hitlab.exercises.definitions import Sentence
from hitlab.exercises.figures import not_shown
from hitlab.exercises.patterns import SURE_WORDS, as_read, too_much_in
from hitlab.spoken import ONES
from hitlab.wording import listed

__all__ = ["Held", "held", "wanted"]

_FEWEST = 4  # words of a sentence
_LONGEST = 40  # characters of a word, on average, beyond which it is none
_GO_ON = "Then run the cell once more."
_MOST_UNKNOWN = 6  # words that are named
_MOST_READ = 20_000  # characters; a longer text is no sentence, and is not searched


@dataclass(frozen=True, slots=True)
class Held:
    """What became of a sentence.

    Attributes
    ----------
    right
        Nothing is missing, nothing is too much, and every word is accounted for.
    lines
        What to tell its writer.
    mistake
        In a few words, for the table of a class.
    unknown
        Where nothing is missing, and nothing known to be too much: words that the list does not know there,
        so that its writer has to compare it with the model.
    """

    right: bool
    lines: tuple[str, ...]
    mistake: str = ""
    unknown: tuple[str, ...] = ()


def wanted(form: Sentence) -> str:
    """Return the list that a sentence is held against, as the learner reads it."""
    points = "; ".join(f"{one.name} ({one.asks})" for one in form.points)
    return f"It has to say {points}. And no more than was shown, in at most {form.most_words} words."


def held(text: str, form: Sentence, given: frozenset[str] = frozenset()) -> Held:
    """Hold a sentence against the list.

    Parameters
    ----------
    text
        The learner's.
    form
        The list.
    given
        The words that the lesson gave (``given_words``): none is told to be unknown.

    Returns
    -------
    Held
        What is missing, and what is too much.
    """
    words = len(text[:_MOST_READ].split())
    if words < _FEWEST or len(text[:_MOST_READ]) > _LONGEST * words:
        return Held(False, ("that is no sentence yet.", wanted(form)), "no sentence")
    if words > form.most_words:
        many = f"over {words:,}" if len(text) > _MOST_READ else f"{words:,}"
        return Held(
            False,
            (f"{many} words; {form.most_words} is the most that is said in one breath.",),
            "too long for one breath",
        )
    read = as_read(text)
    missing = [one for one in form.points if not any(re.search(pattern, read) for pattern in one.told_by)]
    said = [one.name for one in form.points if one not in missing]
    much = too_much_in(text, (*SURE_WORDS, *form.too_much))
    number = not_shown(text, form.figures)
    much = much or ((number, "that is a number that nobody showed") if number else None)
    lines = [f"said: {listed(said)}."] if said else []
    lines += [f"Missing: {one.name} ({one.asks})." for one in missing]
    lines += [f'More than was shown: "{_as_written(much[0], text)}"; {much[1]}.'] if much else []
    if missing or much:
        mistake = f"says too much: {much[1]}" if much and not missing else f"leaves out {missing[0].name}"
        return Held(False, tuple(lines), mistake)
    model = f"One way to say it: {form.said()}"
    unknown = not_accounted(text, form)
    if unknown:
        named = not_given(unknown, text, form, given)
        shown = listed([f'"{word}"' for word in named[:_MOST_UNKNOWN]])
        more = "" if len(named) <= _MOST_UNKNOWN else ", and more"
        there = f"all {ONES[len(form.points) - 1]} points are there. The list "
        there += (
            f"does not know {shown}{more} there." if named else "knows the words, but not in the order here."
        )
        beside = (
            f"{'Say it without, or read' if named else 'Read'} the two side by side: does yours say the same,"
        )
        return Held(False, (there, model, f"{beside} no more and no less? {_GO_ON}"), unknown=unknown)
    return Held(True, (f"{words} words. {model}",))


def _as_written(found: str, text: str) -> str:
    """Return what was found in a sentence in small letters and plain signs as whole words of its writer's."""
    written = text.split()
    plain = [as_read(word).replace(",", "") for word in written]
    bare = found.replace(",", "")
    within = (r"(?<![\d.])" if bare[0].isdigit() else "", r"(?!\d|\.\d)" if bare[-1].isdigit() else "")
    place = re.search(re.escape(bare).join(within), " ".join(plain))
    if place is None:
        return found
    at = place.start()
    ends = [sum(map(len, plain[: n + 1])) + n for n in range(len(plain))]
    first = next(n for n, end in enumerate(ends) if at < end)
    last = next(n for n, end in enumerate(ends) if at + len(bare) <= end)
    return " ".join(written[first : last + 1]).strip(',;:!?()"').rstrip(".")
