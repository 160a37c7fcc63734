"""Exercises that mark themselves, for one learner alone at one machine.

>>> from hitlab.exercises import check
>>> print(check("01.hard-per-swing", ...))  # doctest: +ELLIPSIS
NOT ANSWERED YET. ...

What a lesson asks stands in one file a lesson (``lesson_01.py``, ...), with the right answer computed
from the data when it is checked, the wrong answers people give, and what each of them mixes up.
"""

from hitlab.exercises.asking import check, choose, hint, progress, solution
from hitlab.exercises.forecasts import confidence
from hitlab.exercises.reviews import review, right_of_review

__all__ = ["check", "choose", "confidence", "hint", "progress", "review", "right_of_review", "solution"]
