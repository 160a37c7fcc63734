"""A question about a table of pitches, with the counts and the fit that it asks for: claims, lists and pages.

``question`` is all that is asked, ``kinds`` what a claim of each kind is asked by. ``source`` goes from a
table to counts, ``seasons`` is what a table's seasons are to the one asked about, ``beside`` what is known of
the hitters beside the table, ``finely`` a rate by game and pitcher, ``faced_pitching`` whether hitters met
comparable pitching. ``fitted`` puts them together: everybody's rates as a question asks for them, and who is
compared; ``of_season`` gives them of one season.

Nothing here says what is so: that is for ``hitlab.claims``, where a question is answered by its kind.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
