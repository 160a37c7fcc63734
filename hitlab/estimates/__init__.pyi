from .league_law import LeagueLaw as LeagueLaw
from .ranked_frames import rank_table as rank_table
from .ranking import Ranks as Ranks
from .ranking import leader_by_minimum as leader_by_minimum
from .ranking import ranks as ranks
from .ranking import usual_minimum as usual_minimum
from .shrinkage import Fit as Fit
from .shrinkage import shrink as shrink
