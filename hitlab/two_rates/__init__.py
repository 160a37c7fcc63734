"""Two rates that go together: ``together`` correlates true talents, luck taken out of both.

``apart`` makes the two rates' luck independent, ``logit_normal`` is the law of both, ``link`` what comes out.
"""
