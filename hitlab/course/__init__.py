"""How the lessons are built, held to their frame, run and turned into handouts.

For people who write lessons; learners need :mod:`hitlab.exercises` and :mod:`hitlab.exercises.sliders` only.
``python -m hitlab.course build``, ``check``, ``export``.
"""
