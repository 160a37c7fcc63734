"""The kinds of claim: what each is asked by and what answers it. Cards, cut lists and commands read this."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from importlib import import_module
from typing import Any

from hitlab.claims.result import Claim
from hitlab.errors import ClaimError
from hitlab.questions.question import LEAGUE_NAMES, OF_SHRUNK_RATES, THE_LEAGUE, Question
from hitlab.wording import chance_text

__all__ = ["KINDS", "Kind"]


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of claim.

    Attributes
    ----------
    name
        One word, as on the command line.
    home
        Module and function that answer it; loaded when it is first asked.
    options
        What it alone is asked by, beside the question's own fields.
    given
        What it can be worked out on beside the table, by argument name.
    knows_no
        Which of the question's fields it is not asked by.
    shots
        Whether single pitches speak for and against it.
    """

    name: str
    home: tuple[str, str]
    options: tuple[str, ...] = ()
    given: tuple[str, ...] = ()
    knows_no: tuple[str, ...] = ()
    shots: bool = True

    def answer(self, question: Question, table: Any, **given: Any) -> Claim:
        """Answer a question of this kind.

        Raises
        ------
        ClaimError
            Where the question has something that the kind does not know.
        """
        question = self._of_league(question)
        usual = Question(kind=self.name)
        for field in self.knows_no:
            if getattr(question, field) != getattr(usual, field):
                takers = [kind.name for kind in KINDS.values() if field not in kind.knows_no]
                raise self._not_asked_by(field, takers)
        strange = [name for name in question.options if name not in self.options]
        if strange:
            known = ", ".join(self.options) or "none"
            raise ClaimError(
                f"a claim of the kind {self.name!r} is not asked by {strange[0]!r}; it knows: {known}"
            )
        if question.conventions.eye is not None and self.name not in OF_SHRUNK_RATES:
            raise ClaimError(
                f"a claim of the kind {self.name!r} cannot allow for an eye's errors; leave eye= out, or ask "
                f"one of these kinds: {', '.join(OF_SHRUNK_RATES)}"
            )
        lost = [name for name, value in given.items() if value is not None and name not in self.given]
        if lost:
            raise self._not_asked_by(lost[0], [kind.name for kind in KINDS.values() if lost[0] in kind.given])
        module, name = self.home
        function: Callable[..., Claim] = getattr(import_module(f"hitlab.claims.{module}"), name)
        claim = function(question, table, **given)
        if question.prior is None or claim.chance is None:
            return claim
        alone = function(replace(question, prior=None), table, **given)
        return claim if alone.chance is None else _beside_alone(claim, alone)

    def _not_asked_by(self, name: str, takers: list[str]) -> ClaimError:
        what = f"a claim of the kind {self.name!r} is not asked by {name}="
        return ClaimError(f"{what}; leave it out, or ask one of these kinds: {', '.join(takers)}")

    def _of_league(self, question: Question) -> Question:
        """Take "league" as a name for everybody together, and refuse it where one alone can be meant."""
        named = question.who.strip().casefold() in LEAGUE_NAMES and question.subject in ("hitter", "league")
        if not named and question.subject != "league":
            return question
        if question.who and not named:
            raise ClaimError(
                f"subject='league' and {question.who!r}: the league is everybody together; leave one out"
            )
        if self.name in _ALL_TOGETHER:
            return replace(question, who="", subject="hitter")
        if self.name not in _OF_LEAGUE:
            kinds = ", ".join(sorted({*_OF_LEAGUE, *_ALL_TOGETHER}))
            raise ClaimError(
                f"a claim of the kind {self.name!r} is about one among many; of the whole league: {kinds}"
            )
        return replace(question, who=THE_LEAGUE, subject="league")


def _beside_alone(claim: Claim, alone: Claim) -> Claim:
    """Add what the table says where nothing is stated of what is usual."""
    assert alone.chance is not None
    same = alone.verdict == claim.verdict
    chance = chance_text(alone.chance, alone.holds_at, alone.fails_at)
    note = (
        "without what is stated of the league, from this table alone, the answer would be "
        f"{alone.verdict.upper()}{', too' if same else ''} (chance {chance})"
    )
    said = claim.say_in_full
    if not same:
        said = f"{said.rstrip('.')}; told nothing of what is usual, the table {_LEFT[alone.verdict]}."
    numbers = {**claim.numbers, "chance_alone": alone.chance}
    return replace(claim, notes=(note, *claim.notes), say_in_full=said, numbers=numbers)


_LEFT = {
    "holds": "would say that it is so",
    "does not hold": "would say that it is not so",
    "open": "would leave it open",
}


_OF_LEAGUE = ("above", "near", "more", "split")
_ALL_TOGETHER = ("response", "together")
"""Kinds that are about everybody where nobody is named."""

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
    Kind("leads", ("rank_claims", "answer_rank"), given=_BESIDE),
    Kind("top", ("rank_claims", "answer_rank"), ("top",), _BESIDE),
    # "She hits it hard on more than 16 % of her swings", "one in five of his swings", "more often than he".
    Kind("above", ("value_claims", "answer_above"), ("value",), _BESIDE, knows_no=_RANKED),
    Kind(
        "near",
        ("value_claims", "answer_near"),
        ("value", "within"),
        _BESIDE,
        knows_no=(*_RANKED, "direction"),
    ),
    Kind("ahead", ("value_claims", "answer_ahead"), ("other",), _BESIDE),
    # "He hits it hard more often against breaking balls".
    Kind(
        "split",
        ("split_claim", "answer_split"),
        ("against", "words"),
        ("inside", "looks"),
        knows_no=_TWO_PARTS,
    ),
    # "She is on a hot streak", "he has been steady since April".
    Kind("hot", ("form_claims", "answer_hot"), _FORM, knows_no=_ONE_HITTER),
    Kind("steady", ("form_claims", "answer_steady"), _FORM, knows_no=_ONE_HITTER, shots=False),
    # "She has more power than two years ago".
    Kind(
        "more",
        ("period_claim", "answer_more"),
        ("than", "factor", "looked_at"),
        ("before",),
        knows_no=_TWO_PARTS,
    ),
    # "He missed one badly and then did not miss the next".
    Kind(
        "response",
        ("response_claim", "answer_response"),
        ("response", "direction"),
        ("responses",),
        knows_no=_EVERYBODY,
    ),
    # "Hitters who are ready for the fastball also hit the breaking ball".
    Kind(
        "together",
        ("together_claim", "answer_together"),
        ("first", "second"),
        knows_no=(*_EVERYBODY, "about"),
        shots=False,
    ),
    # "He is the right hitter for this spot: trailing by two, runners on first and second, one out".
    Kind("spot", ("spot_claim", "answer_spot"), _OF_SPOT, ("pitcher", "traits"), knows_no=_SPOT),
)
KINDS: dict[str, Kind] = {kind.name: kind for kind in _ASKED}
"""Every kind by name."""
