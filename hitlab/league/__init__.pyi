from .charted import charted_by as charted_by
from .counts import draw_counts as draw_counts
from .demo import make_demo as make_demo
from .effects import Effects as Effects
from .seasons import Season as Season
from .seasons import make_season as make_season
from .truth import RATES as RATES
