"""One situation against the rest.

``usual`` says which situations are usual, ``inside`` counts in many situations at once on any engine,
``beside`` holds what the usual ones say too; ``one_split`` compares, ``many_splits`` compares all at once;
``two_records`` two records alone; ``split_law`` is the law of what a situation does to a hitter, with the
league beside him.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
