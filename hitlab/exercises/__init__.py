"""Exercises that mark themselves, for one learner alone at one machine.

>>> from hitlab.exercises import check
>>> print(check("01.hard-per-swing", ...))  # doctest: +ELLIPSIS
NOT ANSWERED YET. ...

What a lesson asks stands in one file a lesson (``lesson_01.py``, ...), with the right answer computed
from the data when it is checked, the wrong answers people give, and what each of them mixes up.

An exercise's form (``definitions``) says how it is marked: ``trying`` runs a learner's function on drawn
cases and holds it against ours, or where that draws against the same without its luck (``Code.surely``);
``sentences`` holds a sentence against its list; ``letters`` orders choices; ``reviews`` picks what is due;
``calibration`` holds how sure a learner was against how often he was right. Files of progress (``keeping``)
only gain values, and whoever reads them takes none for granted.

A sentence in one's own words is a ``Sentence`` in ``lesson_NN.py``:

- Its points, with ``patterns``, tell what is missing; ``figures`` which numbers may be said; ``too_much`` the
  turns that were met, each with its message.
- Nothing is told right by these alone: every word has to be idle (``hitlab/idle_words.py``, shared with
  ``asking``), a plain word of the model or of ``good``, or stand in a frame; ``accounting`` holds that. So
  write ``people``, and in ``frames`` what may stand around numbers and weighty words (who is ahead of whom,
  not, only, than): ``frames.record``, ``among``, ``asked``, and ``fill`` for a run of words that claim
  nothing there. Texts come as ``accounting.plainly`` gives them; look at yours. A frame holds who does what
  to whom, and no lone "not", "any" or "below".
- Beyond that a number has to count what it counts in the model, in ``good`` or in ``phrases``
  (``counted``), and a chance, "likely", "open" or "may" to weigh what it weighs there (``weighed``): the
  right numbers make a false sentence as easily as a true one. ``tests/test_near_sentences.py`` turns each of
  ours over at one place; add false sentences with the right numbers to ``tests/near_sentences.json``.
- Have somebody else write twelve false sentences and eight good ones before he has seen the lists, put them
  into ``tests/fresh_sentences.json``, and mend frames, not bounds. A good sentence with a word that nobody
  knows is ``compare the two``, which is no mistake.
"""

from hitlab.exercises.asking import check, choose, hint, progress, solution
from hitlab.exercises.forecasts import confidence
from hitlab.exercises.reviews import review, right_of_review

__all__ = ["check", "choose", "confidence", "hint", "progress", "review", "right_of_review", "solution"]
