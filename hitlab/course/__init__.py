"""How lessons are built, held to their frame, run and turned into handouts, slides, plans; how a class did.

For people who write lessons or teach them; learners need :mod:`hitlab.exercises` and
:mod:`hitlab.exercises.sliders` only.
``python -m hitlab.course build``, ``check``, ``minutes``, ``handouts``, ``teacher``, ``export``.
"""
