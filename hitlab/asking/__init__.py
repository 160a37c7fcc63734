"""Ask in your own words: a sentence becomes a question, a choice of questions, or a plain refusal."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
