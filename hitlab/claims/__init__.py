"""The kinds of claim: one file a family, and the registry that the command line and cards read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from hitlab.claims.form_claims import check_hot, check_steady
from hitlab.claims.period_claim import check_more
from hitlab.claims.rank_claims import check_leads, check_top
from hitlab.claims.response_claim import check_response
from hitlab.claims.result import About, Claim, Verdict
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


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of claim.

    Attributes
    ----------
    name
        One word, as on the command line.
    example
        What somebody says.
    check
        The function that checks it.
    needs
        What has to be named beside the counts, in the function's order and by its argument names.
    ranked
        True where a minimum exposure applies.
    """

    name: str
    example: str
    check: Callable[..., Claim]
    needs: tuple[str, ...]
    ranked: bool = False

    def __call__(self, *arguments: Any, **options: Any) -> Claim:
        """Check it."""
        return self.check(*arguments, **options)


KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("leads", "nobody hits it hard more often than she does", check_leads, ("hitter",), True),
        Kind("top", "she is one of the five best at it", check_top, ("hitter", "top"), True),
        Kind("above", "she hits it hard on more than 16 % of her swings", check_above, ("hitter", "value")),
        Kind("ahead", "she hits it hard more often than he does", check_ahead, ("hitter", "other")),
        Kind("split", "he hits it hard more often against breaking balls", check_split, ("inside", "hitter")),
        Kind("hot", "she is on a hot streak", check_hot, ("hitter",)),
        Kind("steady", "he has been steady since April", check_steady, ("hitter",)),
        Kind("more", "she has more power than two years ago", check_more, ("now", "hitter")),
        Kind(
            "response",
            "he missed one badly and then did not miss the next",
            check_response,
            ("responses", "hitter"),
        ),
        Kind(
            "together",
            "hitters who are ready for the fastball also hit the breaking ball",
            check_together,
            (),
        ),
        Kind(
            "spot",
            "he is the right hitter for this spot: trailing by two, runners on first and second, one out",
            check_spot,
            ("spot", "hitter"),
            True,
        ),
    )
}
"""Every kind by name."""
