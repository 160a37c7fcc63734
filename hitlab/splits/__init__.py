"""One situation against the rest.

``situations`` reads what the situation is, ``one_split`` compares, ``many_splits`` compares all at once;
``split_law`` is the law of what a situation does to a hitter, with the league beside him.
"""
