"""Gives a choice's options in an order of the learner's own, so that no letter is right more often."""

from __future__ import annotations

import random
import secrets
from dataclasses import replace
from typing import Any

from hitlab.exercises.definitions import Choice, Exercise
from hitlab.exercises.keeping import change, progress_path, saved
from hitlab.exercises.notices import Notice

__all__ = ["choices_of", "in_own_order", "own_seed"]

LETTERS = "abcdefgh"
_PRINTED = 9  # in this one of the first ten orders the letters are about equally often right


def own_seed() -> int:
    """Return the learner's own number, drawn at the first use and kept with the progress.

    0 where no progress is kept on disk: questions and their orders are those of the printed lessons then.
    """
    if progress_path() is None:
        return 0
    # Of the file alone: what could not be saved would be another order in the next notebook.
    kept = _kept(saved())
    if not kept:
        change("learner", "order", seed=secrets.randbelow(2**31 - 1) + 1)
        kept = _kept(saved())
    return kept


def _kept(progress: dict[str, Any]) -> int:
    seed = progress["learner"].get("order", {}).get("seed")
    return seed if isinstance(seed, int) and not isinstance(seed, bool) and seed > 0 else 0


def in_own_order(exercise: Exercise, anew: str = "") -> Exercise:
    """Return an exercise as the learner sees it; all but choices are as they are.

    ``anew`` gives another order to a question that comes again, so that no letter is remembered.
    """
    form = exercise.form
    if not isinstance(form, Choice):
        return exercise
    keys = list(form.options)
    random.Random(f"{own_seed() or _PRINTED} {exercise.id}{anew}").shuffle(keys)
    letter = dict(zip(keys, LETTERS, strict=False))
    return replace(
        exercise,
        form=Choice(letter[form.right], {letter[key]: form.options[key] for key in keys}),
        wrong=tuple(replace(wrong, given=letter[str(wrong.given)]) for wrong in exercise.wrong),
    )


def choices_of(exercise: Exercise) -> Notice:
    """Return a choice's options, each with its letter."""
    form = in_own_order(exercise).form
    assert isinstance(form, Choice)
    return Notice("choose", (), items=tuple(f"{letter}) {text}" for letter, text in form.options.items()))
