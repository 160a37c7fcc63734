"""Charts made by hand: two of one game beside each other, and the eye's hard balls against the radar's.

``aligning`` finds which rows are the same pitch, ``charters`` compares them, ``eye`` measures how often an
eye is right about hard balls, ``corrected`` takes its errors out of a rate.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
