"""Two rates that go together: ``together`` correlates true talents, luck taken out of both.

``disjoint`` makes the two rates' luck independent, ``logit_normal`` is the law of both, ``link`` what comes
out.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
