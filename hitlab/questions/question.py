"""A question: all that a claim was asked, in one object that claims, cards, cut lists and commands read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field, fields, replace
from typing import TYPE_CHECKING, Any, Literal, get_args

import numpy as np

from hitlab.counting.facts import Conventions
from hitlab.counting.situations import situation
from hitlab.errors import ClaimError
from hitlab.questions.kinds import KINDS, LIST, Kind
from hitlab.showing import shown_name

if TYPE_CHECKING:
    from hitlab.claims.result import Claim

__all__ = [
    "CAREER",
    "FAILS_AT",
    "HOLDS_AT",
    "LEAGUE_NAMES",
    "THE_LEAGUE",
    "About",
    "Direction",
    "History",
    "Question",
    "Subject",
]

About = Literal["underlying", "record"]
"""What a claim is about: the underlying rate (and so the future), or the record as it stands today."""

Direction = Literal["more", "less", "either"]
Subject = Literal["hitter", "pitcher", "club", "league"]
History = Literal["ids", "names", "none"]
"""How somebody is followed through seasons: by an id, by the name alone, or not at all."""

HOLDS_AT = 0.90
FAILS_AT = 0.10
"""The two bounds of a verdict, where none are given."""

CAREER = "career"
"""Said in place of a season: all of them together."""

THE_LEAGUE = "the league"
"""What the whole table is called as a subject."""

LEAGUE_NAMES = ("league", THE_LEAGUE)
"""What is said for everybody together: as a subject, and in place of a value for everybody else."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked.

    Attributes
    ----------
    kind
        A key of ``hitlab.questions.KINDS``.
    who
        The subject's name, label or id; empty for whoever leads, or for all together.
    subject
        Who has the rate: ``hitter``, ``pitcher`` (what those who face him do), ``club``, or ``league``:
        everybody in the table together, also asked for by the name ``league``.
    event, per
        The rate: names of two counts, or a count restricted by a situation (``swings at balls=0 strikes=0``).
    when
        Terms of the situation that the rate is taken in; none for all pitches.
    since, until
        First and last day, as year-month-day or as somebody says it (``May 15``, ``May``); empty for all.
    season
        One season of a table of several, whose earlier ones then count as history where the kind takes one;
        ``career`` for all of them together; empty where seasons are not told apart.
    history
        How who is asked about is found in other seasons: by ``ids``, by ``names``, or ``none``.
    direction
        Whether it is said to be ``more`` or ``less`` (higher or lower, above or below), or, of a change,
        ``either``.
    club
        Compare within this club only; the law is still the whole table's.
    minimum
        Fewest exposures to be compared; a quarter of the largest where not given.
    about
        ``underlying`` or ``record``.
    holds_at, fails_at
        The two bounds of the verdict.
    prior
        What is known of the league from outside: mean, spread, number of rates and source of a law, and
        whether its level is meant, too.
    independent
        Take the attempts of one game for independent.
    groups, covariates
        Columns that the mean of the true rates may follow: words that make kinds of hitters, and numbers.
    by_exposure
        Whether that mean may follow the exposure; ``"auto"`` where it is weighed.
    traits, earlier
        Where a table of groups and covariates, and earlier seasons, came from, and their fingerprints; the
        tables themselves are given when it is asked.
    conventions
        How the debatable cases are counted.
    options
        What this kind alone is asked by: ``top``, ``value``, ``other``, ``stretch``, ...
    """

    kind: str
    who: str = ""
    subject: Subject = "hitter"
    event: str = "hard"
    per: str = "swings"
    when: tuple[str, ...] = ()
    since: str = ""
    until: str = ""
    season: str = ""
    history: History = "ids"
    direction: Direction = "more"
    club: str = ""
    minimum: int | None = None
    about: About = "underlying"
    holds_at: float = HOLDS_AT
    fails_at: float = FAILS_AT
    prior: tuple[float, float, int | None, str, bool] | None = None
    independent: bool = False
    groups: str = ""
    covariates: tuple[str, ...] = ()
    by_exposure: bool | Literal["auto"] = "auto"
    traits: str = ""
    earlier: tuple[str, ...] = ()
    conventions: Conventions = field(default_factory=Conventions)
    options: Mapping[str, Any] = field(default_factory=dict)

    def __post_init__(self) -> None:
        words = {"about": About, "direction": Direction, "subject": Subject, "history": History}
        for name, accepted in words.items():
            if getattr(self, name) not in get_args(accepted):
                given = " or ".join(repr(one) for one in get_args(accepted))
                raise ClaimError(f"{name}={getattr(self, name)!r}: give {given}")
        if not 0 <= self.fails_at < self.holds_at <= 1:
            raise ClaimError(
                f"holds_at={self.holds_at!r}, fails_at={self.fails_at!r}: give two chances, the second below "
                "the first"
            )
        if self.by_exposure not in (True, False, "auto"):
            raise ClaimError(f"by_exposure={self.by_exposure!r}: give True, False or 'auto'")
        if self.minimum is not None and (not _whole(self.minimum) or self.minimum < 0):
            raise ClaimError(f"minimum={self.minimum!r}: give a whole number, 0 or more")

        season = str(self.season).strip()
        season = CAREER if season.casefold() == CAREER else season
        if self.history != "ids" and not season:
            raise ClaimError(f"history={self.history!r} is about the seasons before one; give season=, too")
        if self.history == "none" and season == CAREER:
            raise ClaimError("a career is all seasons together, and has none before it; leave history= out")
        # Lists, as a card's file has them, and a term by itself.
        lists = ("when", "prior", "covariates", "earlier")
        plain: dict[str, Any] = {name: getattr(self, name) for name in lists}
        one = plain["covariates"]
        if isinstance(one, str):
            raise ClaimError(f"covariates={one!r}: give a list of columns, such as [{one!r}]")
        plain["when"] = (self.when,) if isinstance(plain["when"], str) else self.when
        plain = {name: None if value is None else tuple(value) for name, value in plain.items()}
        plain["season"], plain["minimum"] = season, _plain(self.minimum)
        plain["options"] = {name: _plain(value) for name, value in self.options.items()}
        for name, value in plain.items():
            object.__setattr__(self, name, value)

    @property
    def of_kind(self) -> Kind:
        """What holds of its kind, or of a list where no claim is asked."""
        return KINDS.get(self.kind, LIST)

    @property
    def above_league(self) -> bool:
        """Whether everybody else in the table stands in place of a value."""
        return str(self.options.get("value", "")).strip().casefold() in LEAGUE_NAMES

    @property
    def events(self) -> tuple[str, ...]:
        """The counts that are asked about; none where plate appearances are, by all that came of them."""
        if self.kind == "spot":
            return ()
        if self.kind == "together":
            rates = (self.options.get(name) for name in ("first", "second"))
            return tuple(str(rate["event"]) for rate in rates if rate)
        if self.kind == "response":
            return (str(self.options.get("response", "whiff")),)
        return (self.event,)

    def with_options(self, **options: Any) -> Question:
        """Return the same question with some of its kind's options told."""
        return replace(self, options={**self.options, **options})

    def to_dict(self) -> dict[str, Any]:
        """Return it as plain values, fit for JSON: what differs from the usual."""
        usual = Question(kind=self.kind)
        names = [each.name for each in fields(self)]
        told = {name: getattr(self, name) for name in names if getattr(self, name) != getattr(usual, name)}
        if "conventions" in told:
            counted, as_usual = asdict(self.conventions), asdict(usual.conventions)
            told["conventions"] = {name: each for name, each in counted.items() if each != as_usual[name]}
        return {"kind": self.kind, **told}

    @classmethod
    def from_dict(cls, told: Mapping[str, Any]) -> Question:
        """Take it back from plain values.

        Raises
        ------
        ClaimError
            Where they are of another version, or no question.
        """
        known = {each.name for each in fields(cls)}
        strange = [name for name in told if name not in known]
        if strange or "kind" not in told:
            raise ClaimError(f"this is no question of this version: {strange or 'kind is missing'}")
        return cls(**{**told, "conventions": Conventions(**told.get("conventions", {}))})

    def where(self, day: Callable[[str], str]) -> str:
        """Return how situation, season and days follow a rate in a sentence; empty for all pitches.

        Parameters
        ----------
        day
            How a day is said.
        """
        said = [situation(*self.when).words] if self.when and self.kind != "split" else []
        if self.season == CAREER:
            said.append("within the career" if self.since or self.until else "over the whole career")
        elif self.season:
            said.append(f"in {'' if self.season.isdigit() else 'the season '}{shown_name(self.season)}")
        since = day(self.since) if self.since and not self.of_kind.since_parts else ""
        until = day(self.until) if self.until else ""
        if since and until:
            said.append(f"from {since} to {until}")
        elif since or until:
            said.append(f"since {since}" if since else f"until {until}")
        return " ".join(said)

    def ask(self, table: Any, **given: Any) -> Claim:
        """Answer it from a pitch table, or from counts where these are enough.

        Parameters
        ----------
        table
            A checked file's path, a ``Reading``, a frame of pitches, ``Counts`` or any table of counts.
        given
            What a kind was worked out on beside, where there are no pitches: ``inside``, ``before``; what is
            known of the hitters beside the table: ``traits``, ``earlier``.

        Returns
        -------
        Claim

        Raises
        ------
        HitlabError
            Where it cannot be answered; the message says why and what to do.
        """
        from hitlab.claims.answering import answer

        return answer(self, table, **given)


def _plain(value: Any) -> Any:
    """Return a numpy number as Python's own: a card's file knows no other."""
    return value.item() if isinstance(value, np.generic) else value


def _whole(value: Any) -> bool:
    return isinstance(value, int | np.integer) and not isinstance(value, bool)
