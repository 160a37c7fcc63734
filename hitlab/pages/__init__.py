"""What is printed or opened offline: a page about a hitter, a board list, a dugout sheet.

``gathering`` looks at the table once for everybody, ``making`` takes from it what stands on one ``page``,
``words`` says it. ``board`` makes the list for the wall, ``dugout`` the sheet for the next game, of which
``opponents`` tells what the pitchers throw. ``html`` puts all of it into templates, ``saving`` writes it,
``printing`` makes a PDF of it.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
