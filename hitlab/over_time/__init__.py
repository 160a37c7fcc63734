"""A rate over a season or a career: form, change, halves, dependence within games.

``stretches`` puts games in order; ``form`` compares with luck around one rate, ``form_law`` says how much
form there is (``alike``: beyond what makes attempts of one game alike); ``periods`` compares before and
after, and halves; ``half_weights`` (``pivots``: its intervals) and ``dependence`` rest on these;
``after_looking`` corrects for a day or hitter picked by what it shows, ``seasons`` says whether a rate moved.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
