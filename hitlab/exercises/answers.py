"""Reads whatever a learner wrote as an answer: a number, two numbers, a letter, or says why not."""

from __future__ import annotations

import math
import re
from itertools import islice
from numbers import Number as AnyNumber
from numbers import Real
from typing import Any

import numpy as np

from hitlab.errors import HitlabError
from hitlab.exercises.definitions import Bounds, Choice, Code, Form, Sentence

__all__ = ["UnreadableAnswerError", "is_blank", "read_answer", "sort_of"]


_EMPTY = re.compile(r"[\s.…]*")


class UnreadableAnswerError(HitlabError):
    """An answer of the wrong sort; the message says what was found and what is wanted."""


def is_blank(answer: Any) -> bool:
    """Return whether nothing was answered yet: the dots, None, or empty text."""
    return answer is ... or answer is None or (type(answer) is str and _EMPTY.fullmatch(answer) is not None)


def read_answer(answer: Any, form: Form) -> Any:
    """Return the answer as the form wants it: a float, two floats, a lower-case letter, a function or a text.

    Raises
    ------
    UnreadableAnswerError
        With a message for the learner.
    """
    if isinstance(form, Code):
        if not callable(answer) or isinstance(answer, type):
            raise UnreadableAnswerError(
                f"give the function itself, by its name and without (); that is {sort_of(answer)}"
            )
        return answer
    if callable(answer) and not isinstance(answer, type):
        raise UnreadableAnswerError(
            "that is a function; call it, with () behind its name, and give what it returns"
        )
    if isinstance(form, Sentence):
        if not isinstance(answer, str):
            raise UnreadableAnswerError(
                f"give a sentence, between quotation marks; that is {sort_of(answer)}"
            )
        return answer
    if isinstance(form, Choice):
        return _letter(answer, form)
    if isinstance(form, Bounds):
        return _two(answer)
    return _number(answer)


_SORTS = {
    "NoneType": "nothing",
    "str": "text",
    "bool": "True or False",
    "bool_": "True or False",
    "complex": "a complex number",
    "type": "a class",
    "dict": "a dictionary",
    "ndarray": "an array",
    "Series": "a column",
    "DataFrame": "a table",
    "function": "a function, which nobody called",
    "method": "a function, which nobody called",
    "generator": "a generator, which holds no values yet",
    "coroutine": "a coroutine, which nobody awaited",
}


def sort_of(answer: Any) -> str:
    """Return what sort of thing it is, in words; asks the type alone, never the object."""
    name = type(answer).__name__
    if name in _SORTS:
        return _SORTS[name]
    if issubclass(type(answer), AnyNumber):
        return "a number"
    return f"{'an' if name[0] in 'aeiouAEIOU' else 'a'} {name}"


def _letter(answer: Any, form: Choice) -> str:
    letters = ", ".join(f'"{letter}"' for letter in form.options)
    if not isinstance(answer, str):
        raise UnreadableAnswerError(f"give one letter in quotes, {letters}; that is {sort_of(answer)}")
    text = answer.strip().lower()
    for letter, option in form.options.items():
        if text.strip("()[]. :") == letter or text == option.lower():
            return letter
    raise UnreadableAnswerError(f'"{answer:.30}" is none of the letters {letters}')


def _two(answer: Any) -> tuple[float, float]:
    wanted = "give a low and a high end with a comma between them, as in 2, 5"
    if isinstance(answer, str):
        answer = re.split(r"\s*(?:,|;|\bto\b|\band\b)\s*", answer.strip())
    try:
        ends = list(islice(answer, 3))  # whatever it is, it may have no end
    except TypeError:
        raise UnreadableAnswerError(f"{wanted}; that is {sort_of(answer)}") from None
    if len(ends) != 2:
        raise UnreadableAnswerError(f"{wanted}; there {_values(len(ends))}")
    low, high = (_number(end) for end in ends)
    if low > high:
        raise UnreadableAnswerError(f"{wanted}; the low end {low:g} is above the high end {high:g}")
    return low, high


def _values(number: int) -> str:
    return {0: "are no values", 1: "is one value"}.get(number, "are more than two values")


def _number(answer: Any) -> float:
    if isinstance(answer, (bool, np.bool_)):
        raise UnreadableAnswerError("give a number; that is True or False")
    if isinstance(answer, str):
        value = _number_in(answer)
    elif isinstance(answer, Real):
        try:
            value = float(answer)
        except OverflowError:
            raise UnreadableAnswerError("that is larger than any answer here") from None
    else:
        value = _only_one(answer)
    if math.isnan(value):
        raise UnreadableAnswerError(
            "that is NaN, which is no number: it comes from nothing divided by nothing, or a missing value"
        )
    if math.isinf(value):
        raise UnreadableAnswerError("that is infinite: something was divided by zero")
    return value


def _number_in(text: str) -> float:
    # Blanks stand between thousands, and before the sign of a per cent or of a fraction.
    bare = re.sub(r"(?<=\d) (?=\d{3}(?!\d))|\s+(?=[%/])|(?<=/)\s+", "", text.strip()).rstrip(".")
    percent = bare.endswith("%")
    top, slash, below = bare.rstrip("%").partition("/")
    try:
        value = float(top) / float(below) if slash else float(top)
    except (ValueError, ZeroDivisionError):
        raise UnreadableAnswerError(f'give a number; "{text:.30}" is text') from None
    return value / 100 if percent else value


def _only_one(answer: Any) -> float:
    """Return the number in a list, array, column or table that holds exactly one."""
    if np.iscomplexobj(answer):  # numpy would take the real part
        raise UnreadableAnswerError(f"give one number; that is {sort_of(answer)}")
    try:
        values = np.asarray(answer, dtype=float).ravel()
    except (TypeError, ValueError):
        raise UnreadableAnswerError(f"give one number; that is {sort_of(answer)}") from None
    if len(values) != 1:
        raise UnreadableAnswerError(f"give one number; that is {sort_of(answer)} with {len(values)} values")
    return float(values[0])
