"""How much to believe a rate, and who is best.

From the ground up: ``posterior`` (what is known of a true rate), ``shapes`` (tails and humps that the law of
true rates may have), ``prior_laws`` (that law, integrated over), ``fit_check`` (could it have made the
table?), ``league_law`` (a law stated from outside), ``estimators`` (single laws, for comparison), ``designs``
(what the mean may depend on), ``crossed`` (pitchers, staffs and parks as crossed effects), ``shrinkage`` (the
fit), ``ranking`` (chances of best and of the top), ``faced`` (rates adjusted for what hitters faced).
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
