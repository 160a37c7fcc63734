"""How much to believe a rate, and who is best.

From the ground up: ``posterior`` (what is known of a true rate), ``shapes`` (tails and humps that the law of
true rates may have), ``prior_laws`` (that law, integrated over), ``questions`` (exposure; groups with means,
slopes and spreads of their own; covariates; earlier seasons), ``fit_check`` (could it have made the table?),
``league_law`` (a law stated from outside), ``answers`` (which combinations matter), ``estimators`` (single
laws, for comparison), ``designs`` (the average over combinations), ``crossed`` (pitchers, staffs and parks as
crossed effects), ``eye_law`` (the law of rates behind ticks), ``shrinkage`` (the fit), ``traits`` (what
hitters are, beside their counts), ``ranking`` and ``ranked_frames`` (chances of best and of the top),
``faced`` and ``faced_in_parts`` (rates adjusted for what hitters faced).
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
