"""A page about a hitter: what is known of one, with what is not, to print or to open offline.

``gathering`` looks at the table once for everybody, ``making`` takes from it what stands on one ``page``,
``words`` says it, ``html`` puts it into a template, ``printing`` makes a PDF of it.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
