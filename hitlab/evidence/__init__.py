"""What a claim is shown with: ``shots`` (which pitches are for it), ``cut_lists``, ``cards``.

``time_codes`` put shots on a recording; ``gallery`` makes every picture and card, of the questions in
``samples``, ``drawn`` is what a picture is remembered by, ``strokes`` what is drawn in it, one by one.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
