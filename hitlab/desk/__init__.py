"""The desk: a page on which somebody without code asks, and reads what is safe to say.

It works nothing out: it puts fields into a question and shows what the library answers. ``page`` (fields,
buttons; every handler says in a sentence what went wrong), ``tables`` (the table, looked at once), ``form``
(choices into a question), ``answers`` (claims as HTML), ``notes`` (what was asked, the looks), ``saving``
(files beside each other), ``sheet`` (the notebook; ``notebooks/desk.ipynb`` is what it gives), ``serving``
(Voila under a template of ours that fetches nothing). Counts and fits are kept between questions by
``keeping`` in ``questions/source.py``.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
