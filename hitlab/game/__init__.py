"""The game situation, and which hitter it asks for.

``outcomes``, ``advancing``, ``base_out`` and ``innings`` know nothing but the chances of nine outcomes;
``outcome_rates`` and ``opposing`` take those chances from counts, ``spots`` puts both together.
"""
