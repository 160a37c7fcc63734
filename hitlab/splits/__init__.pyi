from .inside import situation_counts as situation_counts
from .many_splits import ManySplits as ManySplits
from .many_splits import all_splits as all_splits
from .one_split import SplitFit as SplitFit
from .one_split import split_rates as split_rates
from .usual import usual_situations as usual_situations
