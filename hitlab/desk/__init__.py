"""The desk: a page on which somebody without code asks, and reads what is safe to say."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
