"""Is the sentence safe to say? The answer to a question (``hitlab.questions``), with all that it rests on.

``checking`` has the public functions, ``answering`` looks whether a kind knows all that it is asked.
``setting`` is what all kinds share, one file a kind finds out what is so, ``verdicts`` is what decides.
``clauses`` and ``sentences`` are what is said aloud, ``kept`` how often such claims came true, ``rows`` the
evidence, ``result`` the answer.

To add a kind of claim:

- A file with ``answer_NAME(question, table)``: what is common from ``Setting.asked(question, table)``, what
  was found and how it is said in a ``Finding`` (a record needs its first four parts only), the end by
  ``setting.answer(...)``.
- One ``Kind`` in ``questions/kinds.py``: its own options, which fields it is not asked by, and what else
  holds of it. What looks at single pitches takes ``Source.asked_of``: of one season those of that season
  alone. ``tests/test_season_of_each_kind.py`` holds each kind to the season's own table.
- One clause in ``clauses``: headline and sentences for air are made of it.
- One function in ``checking``, its name in both ``__init__.pyi``, a command in ``cli/checks.py``, an example
  in ``evidence/samples.py``.
- A line in ``ASKED`` of ``tests/test_questions.py``, which holds that card, cut list and remaking follow from
  the question; full sentences asserted in a test; its calibration in
  ``tests/benchmarks/calibration_kinds.py``.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
