"""The game situation, and which hitter it asks for.

``outcomes``, ``advancing``, ``base_out`` and ``innings`` know nothing but the chances of nine outcomes;
``outcome_rates`` and ``opposing`` take those chances from counts, ``spots`` puts both together.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
