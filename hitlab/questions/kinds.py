"""The kinds of claim: what each is asked by, what answers it, and what else holds of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["KINDS", "LIST", "Kind"]


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of claim.

    Attributes
    ----------
    name
        One word, as on the command line.
    home
        Module of ``hitlab.claims`` and function that answer it; loaded when it is first asked.
    options
        What it alone is asked by, beside the question's own fields.
    given
        What it can be worked out on beside the table, by argument name.
    knows_no
        Which of the question's fields it is not asked by.
    shots
        Whether single pitches speak for and against it.
    shrunk
        Whether it rests on the shrunk rates of the same pitches. Then earlier seasons say something of the
        one that is asked about, and an eye's errors can be allowed for.
    one_season
        Whether it holds some games of a season against its others, so that it is asked of no career.
    since_parts
        Whether a first day parts the pitches instead of choosing among them.
    league
        Of whom it is where the league is asked about: of everybody ``as one`` subject, of everybody because
        ``nobody`` is named; empty where it is about one among many.
    """

    name: str
    home: tuple[str, str]
    options: tuple[str, ...] = ()
    given: tuple[str, ...] = ()
    knows_no: tuple[str, ...] = ()
    shots: bool = True
    shrunk: bool = False
    one_season: bool = False
    since_parts: bool = False
    league: Literal["", "as one", "nobody"] = ""


_RANKED = ("club", "minimum")
_BESIDE = ("traits", "earlier")
_LAW = ("prior", "independent", "groups", "covariates", "by_exposure", *_BESIDE)
_PITCHES = ("event", "per", "when", "since", "until")
_TWO_PARTS = (*_RANKED, *_LAW)
_ONE_HITTER = ("direction", "subject", *_TWO_PARTS)
_EVERYBODY = (*_ONE_HITTER, *_PITCHES)
# A spot compares hitters by all that they ever did, and follows what is known of them.
_SPOT = (
    *("club", "direction", "subject", "prior", "independent", "by_exposure", "earlier", "about"),
    *_PITCHES,
)
_OF_SPOT = ("gap", "outs", "bases", "candidates", "pitcher", "following", "tie_wins", "rules", "seed", "plan")
_FORM = ("stretch", "factor")

_ASKED = (
    # "Nobody hits it hard more often than she does", "she is one of the five best at it".
    Kind("leads", ("rank_claims", "answer_rank"), given=_BESIDE, shrunk=True),
    Kind("top", ("rank_claims", "answer_rank"), ("top",), _BESIDE, shrunk=True),
    # "She hits it hard on more than 16 % of her swings", "one in five of his swings", "more often than he".
    Kind(
        "above",
        ("value_claims", "answer_above"),
        ("value",),
        _BESIDE,
        knows_no=_RANKED,
        shrunk=True,
        league="as one",
    ),
    Kind(
        "near",
        ("value_claims", "answer_near"),
        ("value", "within"),
        _BESIDE,
        knows_no=(*_RANKED, "direction"),
        shrunk=True,
        league="as one",
    ),
    Kind("ahead", ("value_claims", "answer_ahead"), ("other",), _BESIDE, shrunk=True),
    # "He hits it hard more often against breaking balls".
    Kind(
        "split",
        ("split_claim", "answer_split"),
        ("against", "words"),
        ("inside", "looks"),
        knows_no=_TWO_PARTS,
        league="as one",
    ),
    # "She is on a hot streak", "he has been steady since April".
    Kind("hot", ("form_claims", "answer_hot"), _FORM, knows_no=_ONE_HITTER, one_season=True),
    Kind(
        "steady",
        ("form_claims", "answer_steady"),
        _FORM,
        knows_no=_ONE_HITTER,
        shots=False,
        one_season=True,
        since_parts=True,
    ),
    # "She has more power than two years ago".
    Kind(
        "more",
        ("period_claim", "answer_more"),
        ("than", "factor", "looked_at"),
        ("before",),
        knows_no=_TWO_PARTS,
        since_parts=True,
        league="as one",
    ),
    # "He missed one badly and then did not miss the next".
    Kind(
        "response",
        ("response_claim", "answer_response"),
        ("response", "direction"),
        ("responses",),
        knows_no=_EVERYBODY,
        league="nobody",
    ),
    # "Hitters who are ready for the fastball also hit the breaking ball".
    Kind(
        "together",
        ("together_claim", "answer_together"),
        ("first", "second"),
        knows_no=(*_EVERYBODY, "about"),
        shots=False,
        league="nobody",
    ),
    # "He is the right hitter for this spot: trailing by two, runners on first and second, one out".
    Kind("spot", ("spot_claim", "answer_spot"), _OF_SPOT, ("pitcher", "traits"), knows_no=_SPOT),
)
KINDS: dict[str, Kind] = {kind.name: kind for kind in _ASKED}
"""Every kind by name."""

LIST = Kind("list", ("", ""), shrunk=True)
"""What is asked for lists of rates and pages: shrunk rates, and no yes or no."""
