"""Charts made by hand: what they are made on, two of one game beside each other, the eye against the radar.

``aligning`` finds which rows are the same pitch, ``charters`` compares them, ``eye`` measures how often an
eye is right about hard balls, ``corrected`` takes its errors out of a rate. ``sheet_paper`` and
``sheet_workbook`` make the sheets to chart on, of the words in ``sheet_words``.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
