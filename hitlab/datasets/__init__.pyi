from .hitting_lines import first_at_bats as first_at_bats
from .hitting_lines import season_lines as season_lines
from .pitch_set import POOLED_ONLY as POOLED_ONLY
from .pitch_set import open_pitches as open_pitches
