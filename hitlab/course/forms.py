"""Two forms of one test, for before and after the course, and what each answer tells about who gave it."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from hitlab.course.sheets import page
from hitlab.course.sources import in_a_sentence
from hitlab.exercises.before_after import TEMPLATES, Template
from hitlab.exercises.library import find_lesson
from hitlab.writing import make_folder, write_file

__all__ = ["FORMS", "MINUTES", "Item", "Option", "form", "letters_of", "write_forms"]

FORMS = ("A", "B")
MINUTES = 25
"""For a form: two minutes a question, and one to begin."""

LETTERS = "abcd"

_SEEDS = {"A": 2, "B": 295}  # with these every question has other numbers and names in the other form


@dataclass(frozen=True, slots=True)
class Option:
    """One of four.

    Attributes
    ----------
    letter, text
        As they are printed.
    right
        Whether it is right.
    tells
        Why it is right, or what who chooses it believes.
    """

    letter: str
    text: str
    right: bool
    tells: str


@dataclass(frozen=True, slots=True)
class Item:
    """A question of a form.

    Attributes
    ----------
    number
        From 1.
    template
        What it was drawn from.
    lesson
        The title of the lesson that teaches it, with its number.
    text
        The question.
    options
        In the order in which they are printed.
    """

    number: int
    template: Template
    lesson: str
    text: str
    options: tuple[Option, ...]

    @property
    def right(self) -> Option:
        """The right option."""
        return next(option for option in self.options if option.right)


def letters_of(name: str) -> list[str]:
    """Return the right letters of a form: each three times, and no question's the same in both forms."""
    even = list(LETTERS) * (len(TEMPLATES) // len(LETTERS))
    first = even[:]
    random.Random("letters of form A").shuffle(first)
    if name == "A":
        return first
    chance, second = random.Random("letters of form B"), first[:]
    while any(one == other for one, other in zip(first, second, strict=True)):
        chance.shuffle(second)
    return second


def form(name: str) -> list[Item]:
    """Return the twelve questions of a form.

    Parameters
    ----------
    name
        One of :data:`FORMS`.
    """
    return [
        _item(name, number, template, letter)
        for number, (template, letter) in enumerate(zip(TEMPLATES, letters_of(name), strict=True), 1)
    ]


def _item(name: str, number: int, template: Template, letter: str) -> Item:
    drawn = template.draw(np.random.default_rng([_SEEDS[name], number]))
    right = Option(letter, drawn.right, True, drawn.why)
    others = [(wrong.option, f"believes that {wrong.believes}.") for wrong in drawn.wrong]
    random.Random(f"form {name}, question {number}").shuffle(others)
    letters = [one for one in LETTERS if one != letter]
    wrong = [
        Option(one, *other) for one, other in zip(letters, ((t, False, b) for t, b in others), strict=True)
    ]
    taught = find_lesson(template.lesson)
    options = tuple(sorted([right, *wrong], key=lambda option: option.letter))
    lesson = f"{int(taught.number)}, {in_a_sentence(taught.title)}"
    return Item(number, template, lesson, drawn.text, options)


def write_forms(folder: Path) -> Iterator[Path]:
    """Write both forms and their keys as HTML and give the paths.

    Parameters
    ----------
    folder
        Where to; made where it is not there.
    """
    make_folder(folder)
    for name in FORMS:
        items = form(name)
        for template, words in (("form", "Form"), ("key", "Key to form")):
            text = page(template, f"{words} {name}", name=name, items=items, minutes=MINUTES)
            yield write_file(folder / f"{template}_{name.lower()}.html", text.encode())
