"""Charts made by hand: the sheets, two of one game, the eye against the radar, a season in parts.

``aligning`` finds which rows are the same pitch, ``charters`` compares them, ``eye`` measures how often an
eye is right about hard balls, ``corrected`` takes its errors out of a rate. ``sheet_paper`` and
``sheet_workbook`` make the sheets to chart on, of the words in ``sheet_words`` (from the schema) and the
people of ``sheet_people``. ``season`` adds new charts to a checked table under a lock
(``hitlab/locking.py``); ``same_games`` tells whether two games are one.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
