"""An invented league whose truth is known: whole seasons of pitches, or counts alone."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
