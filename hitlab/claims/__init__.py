"""The kinds of claim: one file a family, and the registry that the command line and cards read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Any

from hitlab.claims.result import About, Claim, Verdict

if TYPE_CHECKING:
    from hitlab.claims.form_claims import check_hot, check_steady
    from hitlab.claims.period_claim import check_more
    from hitlab.claims.rank_claims import check_leads, check_top
    from hitlab.claims.response_claim import check_response
    from hitlab.claims.split_claim import check_split
    from hitlab.claims.spot_claim import check_spot
    from hitlab.claims.together_claim import check_together
    from hitlab.claims.value_claims import check_above, check_ahead

__all__ = [
    "KINDS",
    "About",
    "Claim",
    "Kind",
    "Verdict",
    "check_above",
    "check_ahead",
    "check_hot",
    "check_leads",
    "check_more",
    "check_response",
    "check_split",
    "check_spot",
    "check_steady",
    "check_together",
    "check_top",
]


# A claim about one rate is answered without loading what the others are worked out with.
_HOME = {
    "check_above": "value_claims",
    "check_ahead": "value_claims",
    "check_hot": "form_claims",
    "check_leads": "rank_claims",
    "check_more": "period_claim",
    "check_response": "response_claim",
    "check_split": "split_claim",
    "check_spot": "spot_claim",
    "check_steady": "form_claims",
    "check_together": "together_claim",
    "check_top": "rank_claims",
}


def __getattr__(name: str) -> Any:
    """Load a checking function at first use and keep it."""
    if name not in _HOME:
        raise AttributeError(f"module 'hitlab.claims' has no attribute {name!r}")
    globals()[name] = found = getattr(import_module(f"hitlab.claims.{_HOME[name]}"), name)
    return found


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of claim.

    Attributes
    ----------
    name
        One word, as on the command line.
    example
        What somebody says.
    given
        What it is checked on, by the function's argument names; everything else can be told in words.
    """

    name: str
    example: str
    given: tuple[str, ...] = ("counts",)

    @property
    def check(self) -> Callable[..., Claim]:
        """The function that checks it."""
        name = f"check_{self.name}"
        function: Callable[..., Claim] = globals().get(name) or __getattr__(name)
        return function

    def __call__(self, *arguments: Any, **options: Any) -> Claim:
        """Check it."""
        return self.check(*arguments, **options)


KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("leads", "nobody hits it hard more often than she does"),
        Kind("top", "she is one of the five best at it"),
        Kind("above", "she hits it hard on more than 16 % of her swings"),
        Kind("ahead", "she hits it hard more often than he does"),
        Kind("split", "he hits it hard more often against breaking balls", ("counts", "inside")),
        Kind("hot", "she is on a hot streak"),
        Kind("steady", "he has been steady since April"),
        Kind("more", "she has more power than two years ago", ("before", "now")),
        Kind("response", "he missed one badly and then did not miss the next", ("counts", "responses")),
        Kind("together", "hitters who are ready for the fastball also hit the breaking ball", ("link",)),
        Kind(
            "spot",
            "he is the right hitter for this spot: trailing by two, runners on first and second, one out",
            ("counts", "spot"),
        ),
    )
}
"""Every kind by name."""
