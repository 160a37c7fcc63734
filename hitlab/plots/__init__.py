"""Pictures of results: ``draw(result)``, and one named function a picture.

Every function takes ``ax=None`` and returns the axes it drew on. Without ``ax`` a fresh figure is made that
pyplot knows nothing of; with it, only these axes are touched. A picture draws a table of its result and
computes nothing; ``describe(ax)`` says in words what is on it, with the numbers of that table, and
``show(ax)`` puts picture and words into a notebook.

To add a picture, add a module to this folder and no line elsewhere::

    # hitlab/plots/my_topic.py
    __all__ = ["my_picture"]

    @draws(MyResult)                      # hitlab.plots.registry.draws
    def my_picture(result, ax=None, **options):
        ax, own = look.axes_for(ax)       # a fresh figure in the package's look, or the caller's axes
        ...
        return look.finish(ax, own, title, below, alt="...")

``draw`` then finds it by the result's type (or a base of it), and ``hitlab.plots.my_picture`` by its name.
"""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING, Any

from hitlab.optional import lacking

if TYPE_CHECKING:
    from hitlab.plots.alt import describe, image, show
    from hitlab.plots.calibration_picture import calibration
    from hitlab.plots.carry_picture import carry_against_launch, flight_paths
    from hitlab.plots.claim_pictures import claim
    from hitlab.plots.collision_picture import collision_side_view
    from hitlab.plots.contact_curve import launch_against_offset
    from hitlab.plots.denominator_pictures import denominators_side_by_side, two_denominators
    from hitlab.plots.field_picture import field_view
    from hitlab.plots.form_picture import moving_rate
    from hitlab.plots.link_picture import talent_link
    from hitlab.plots.margin_pictures import margin_map, margin_shares
    from hitlab.plots.rank_pictures import rank_chances
    from hitlab.plots.rate_pictures import rate_list
    from hitlab.plots.readiness_picture import against_league, zone_borders
    from hitlab.plots.registry import draw, draws
    from hitlab.plots.response_picture import whiff_answers
    from hitlab.plots.shrinkage_pictures import shrinkage
    from hitlab.plots.spot_picture import win_chances
    from hitlab.plots.timing_picture import pitch_timeline
    from hitlab.plots.visit_strip import plate_appearance_strip

__all__ = [
    "against_league",
    "calibration",
    "carry_against_launch",
    "claim",
    "collision_side_view",
    "denominators_side_by_side",
    "describe",
    "draw",
    "draws",
    "field_view",
    "flight_paths",
    "image",
    "launch_against_offset",
    "margin_map",
    "margin_shares",
    "moving_rate",
    "pitch_timeline",
    "plate_appearance_strip",
    "rank_chances",
    "rate_list",
    "show",
    "shrinkage",
    "talent_link",
    "two_denominators",
    "whiff_answers",
    "win_chances",
    "zone_borders",
]

# Where each picture lives, so that one of them does not load the modules of all others.
_HOME = {
    "against_league": "readiness_picture",
    "calibration": "calibration_picture",
    "carry_against_launch": "carry_picture",
    "claim": "claim_pictures",
    "collision_side_view": "collision_picture",
    "denominators_side_by_side": "denominator_pictures",
    "describe": "alt",
    "draw": "registry",
    "draws": "registry",
    "field_view": "field_picture",
    "flight_paths": "carry_picture",
    "image": "alt",
    "launch_against_offset": "contact_curve",
    "margin_map": "margin_pictures",
    "margin_shares": "margin_pictures",
    "moving_rate": "form_picture",
    "pitch_timeline": "timing_picture",
    "plate_appearance_strip": "visit_strip",
    "rank_chances": "rank_pictures",
    "rate_list": "rate_pictures",
    "show": "alt",
    "shrinkage": "shrinkage_pictures",
    "talent_link": "link_picture",
    "two_denominators": "denominator_pictures",
    "whiff_answers": "response_picture",
    "win_chances": "spot_picture",
    "zone_borders": "readiness_picture",
}


def __getattr__(name: str) -> Any:
    """Find a public function of one of the modules here at first use, and keep it."""
    if name.startswith("_"):
        raise AttributeError(f"module 'hitlab.plots' has no attribute {name!r}")
    there = [module.name for module in iter_modules(__path__)]
    if name in there:  # a module asks for its neighbour: loading all of them here would go in a circle
        return import_module(f"{__name__}.{name}")
    modules = [_HOME[name]] if name in _HOME else there
    for module in modules:
        try:
            found = import_module(f"{__name__}.{module}")
        except ModuleNotFoundError as error:
            if (error.name or "").partition(".")[0] != "matplotlib":
                raise
            raise lacking("matplotlib", "pictures", "plots") from error
        if name in getattr(found, "__all__", ()):
            globals()[name] = value = getattr(found, name)
            return value
    raise AttributeError(f"module 'hitlab.plots' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
