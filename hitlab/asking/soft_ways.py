"""The kinds of question that soft slots may make, and how much speaks for each."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from hitlab.asking.soft_slots import SoftSlots

__all__ = ["AND_SO", "Way", "spots", "unsaid", "ways"]

_RESPONSES = {"whiffs": "whiff", "hard": "hard", "swings": "swing", "takes": "take"}
AND_SO = re.compile(
    r" (?:also|same|too|<gotogether>|(?:<group>|ones|guys|hitters|those) <whose> .* (?:also|are) )"
)


@dataclass(frozen=True, slots=True)
class Way:
    """A kind of question, how much speaks for it, and what it alone is asked by."""

    score: float
    kind: str
    options: dict[str, Any] = field(default_factory=dict)
    since: str = ""
    """A day that is not told: of late."""
    good: int = 0
    """Whether better (1) or worse (-1) is said; 0 where the words tell more or less."""


def ways(soft: SoftSlots) -> list[Way]:
    """Return the kinds of question that may be asked."""
    t = soft.t
    found: list[Way] = []
    said = t.has("more", "better")
    one, two = len(soft.whos) == 1, len(soft.whos) == 2
    hitter = (one or (not soft.whos and t.has("group"))) and soft.subject == "hitter"
    # What follows a miss.
    again = t.has("next") and any(rate.event == "whiffs" for _, rate in soft.rates)
    if hitter and (t.has("after", "learns") or again):
        found += [Way(5 - cost, "response", options) for cost, options in _responses(soft)]
    found += spots(soft)
    number = soft.number()
    if number is not None:
        kind, value, other = number
        found += [Way(4.2, kind, {"value": value}), Way(3.1, other, {"value": value})]
    for place, turned in soft.places():
        found.append(Way(4.5, "top", {"top": place, "turned": turned}))
    if two and soft.subject == soft.whos[1][0].subject:
        found.append(Way(4.4 if t.has("than", "or", "more", "better", "most", "best") else 3.6, "ahead"))
    if not soft.whos and not soft.club and len({r["event"] for r in soft.pair()}) == 2:
        found.append(
            Way(
                3.9
                + t.has("gotogether")
                + 0.8 * bool(AND_SO.search(t.line()))
                - 1.5 * t.has("most", "best", "nobody", "top", "spot"),
                "together",
            )
        )
    if t.has("hot") and one:
        found.append(Way(4.4 - 1.9 * bool(soft.until) - 0.9 * bool(soft.since), "hot"))
    elif t.has("lately", "stretch") and one and not soft.since:
        found.append(Way(2.3 + 0.8 * said, "hot"))
        if soft.lately and soft.subject == "hitter" and not t.has("cold"):
            found.append(Way(2.25, "more", since=soft.lately))
    lately = soft.lately
    elsewhere = one and lately and soft.subject != "hitter" and not (soft.since or soft.until)
    if elsewhere and t.has("lately") and not t.has("hot", "cold"):
        found.append(Way(3.6, "more", since=lately, good=0 if said or t.has("most") else 1))
    if one and lately and not (soft.since or soft.until):
        # What is said of late of a club or a pitcher, or of who is cold: since a fortnight.
        if t.has("cold"):
            found.append(Way(4.1, "more", since=lately, good=-1))
        elif t.has("hot") and soft.subject != "hitter":
            found.append(Way(4.1, "more", since=lately, good=1))
    if one and lately and t.has("before") and said and not (soft.since or soft.until or t.has("league")):
        found.append(Way(3.4, "more", since=lately))  # than she used to
        if soft.used_to:
            return found[-1:]
    if t.has("steady") and one:
        found.append(Way(4.3, "steady"))
    elif t.has("allyear") and one and not said:
        found.append(Way(2.4, "steady"))
    if soft.since or soft.until:
        strong = said or t.has("before", "different", "cold", "hot")
        found.append(Way(4.2 if strong and not t.has("nobody", "anyone", "league") else 2.6, "more", {}))
    others = soft.others_do is not None
    if soft.terms and not two and not others:
        likely = 2.1 + 1.9 * t.has("otherwise") + 1.0 * said + 0.6 * t.has("different", "than")
        likely -= 1.6 * t.has("nobody", "anyone", "league", "leads", "most")
        likely -= 1.5 * ({"outside the zone", "in the zone"} >= set(soft.terms) and not t.has("otherwise"))
        found.append(Way(likely, "split"))
    if soft.whos and not two and (t.has("league") or others or " <more> <group> " in t.line()):
        found.append(Way(3.8, "above", {"value": "league"}))
    compared = [t.typed(word).casefold() for word in t.words if word.text == "<otherwise>"]
    if one and any(told.endswith("rest") for told in compared):
        found.append(Way(4.8, "above", {"value": "league"}))  # the rest of those who do it
    leading = t.has("nobody", "leads") * 1.6 + t.has("anyone") * 1.3 + t.has("most", "best") * 1.4
    leading += 0.5 * t.has("whose") - 1.3 * two
    if one and not others and re.search(r" <than> (?:the |a )?<who> ", t.line()):
        leading += 1.8  # "You will not find one who misses less than her."
    leading += 1.2 * (t.has("spot") and bool(soft.terms))
    found.append(Way(min(1.5 + leading, 4.2), "leads"))
    if soft.whos:
        found.append(Way(2.2 + 0.2 * t.has("good", "lot", "deny"), "above", {"value": "league"}))
    if t.has("best", "most", "leads") and not soft.places() and not two:
        found.append(Way(1.9, "top", {"top": 10, "turned": False}))
    return [way for way in found if way.kind in ("above", "leads", "top", "near")] if others else found


def _responses(soft: SoftSlots) -> Iterator[tuple[float, dict[str, Any]]]:
    """Return what may follow a miss, with whether more or less of it is said where that is not usual."""
    named = [rates[0].event for rates in soft.t.values("rate")]
    named = named or (["swings"] if "swings" in soft.t.values("per") else [])
    told = [_RESPONSES[event] for event in named if event in _RESPONSES]
    told = list(dict.fromkeys(told)) or ["whiff"]
    if "whiff" not in told or (len(told) > 1 and not soft.t.has("after")):
        told = [*(one for one in told if one != "whiff"), "whiff"]
    more = soft.t.values("more") or ([-1] if soft.t.has("deny", "learns") else [])
    for n, response in enumerate(told):
        usual = -1 if response in ("whiff", "swing") else 1
        signs = list(
            dict.fromkeys([*(more or [usual if soft.t.has("learns", "deny") else 1]), usual, -usual])
        )
        for k, sign in enumerate(signs):
            options: dict[str, Any] = {} if response == "whiff" else {"response": response}
            if sign != usual:
                options["direction"] = "more" if sign > 0 else "less"
            yield 0.5 * n + 0.8 * k, options


def _state(soft: SoftSlots) -> dict[str, str]:
    """Return how many are out and who is on base, as far as it is told."""
    told = dict(term.split("=") for term in soft.terms if term.startswith(("outs=", "bases=")))
    if "runners on" in soft.terms:
        told["bases"] = "full"  # of all that it may be the most
    return told


def unsaid(soft: SoftSlots) -> list[str]:
    """Return what a last half inning takes for granted, and what of the sentence plays no part in it."""
    told = _state(soft)
    taken = [] if soft.t.has("gap") else ["by how many runs (taken as a tie)"]
    taken += [] if "outs" in told else ["how many are out (taken as none)"]
    taken += [] if "bases" in told else ["who is on base (taken as nobody)"]
    state = ("outs=", "bases=", "runners on", "inning")
    return taken + [
        soft.t.typed(word)
        for word in soft.t.words
        if word.text == "<hand>" or (word.text == "<in>" and not word.value[0].startswith(state))
    ]


def spots(soft: SoftSlots) -> list[Way]:
    """Return the last half inning that is told; none where too little of one is."""
    told = _state(soft)
    gaps = soft.t.values("gap")
    asked = soft.t.has("spot") * 1.6 + soft.t.has("ninth") * 0.8 + bool(gaps) + (len(told) == 2) * 1.5
    if asked < 2.5 or not (soft.t.has("spot") or gaps):
        return []
    options = {
        "gap": gaps[0] if gaps else 0,
        "outs": int(told.get("outs", "0").split(",")[0]),
        "bases": told.get("bases", "empty"),
    }
    return [Way(2.4 + asked, "spot", options)]
