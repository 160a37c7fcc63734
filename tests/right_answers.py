"""An answer that is right, for the tests that answer exercises."""

from __future__ import annotations

from typing import Any

from hitlab.exercises.definitions import Bounds, Choice, Code, Form, Sentence


def right_answer(form: Form) -> Any:
    """Return an answer that is right; of a choice the option's words, which are right in every order."""
    if isinstance(form, Choice):
        return form.options[form.right]
    if isinstance(form, Code):
        return form.right
    if isinstance(form, Sentence):
        return form.said()
    truth = form.truth()
    return (truth - form.widest / 4, truth + form.widest / 4) if isinstance(form, Bounds) else truth
