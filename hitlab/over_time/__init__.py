"""A rate over a season or a career: form, change, halves, dependence within games.

``stretches`` puts games in order; ``form`` compares with luck around one rate, ``form_law`` says how much
form there is; ``periods`` compares before and after, and halves; ``half_weights`` and ``dependence`` rest on
both.
"""
