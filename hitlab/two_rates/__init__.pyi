from .disjoint import RateOf as RateOf
from .link import Link as Link
from .together import correlate_counts as correlate_counts
from .together import correlate_rates as correlate_rates
