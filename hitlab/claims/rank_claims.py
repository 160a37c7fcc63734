"""Claims about a place in the ranking: leads, and is in the top k; of the highest rates, or of the lowest."""

from __future__ import annotations

from typing import Any

import numpy as np

from hitlab.claims.result import Claim, Finding, Verdict
from hitlab.claims.setting import Setting
from hitlab.claims.verdicts import AS_IT_STANDS
from hitlab.errors import ClaimError
from hitlab.estimates.shrinkage import Posterior
from hitlab.estimates.top_places import Rivals, chance_of_top
from hitlab.questions.fitted import Wholes
from hitlab.questions.question import Question
from hitlab.wording import chance_text

__all__ = ["answer_rank"]

_SHOWN = 8
_TELL_A_TAIL = 60  # hitters: fewer hardly tell whether a few stand far from the rest
# As measured with 40 hitters and the heavy right tail of tests/benchmarks/calibration_leagues.py.
_FEW_AND_FAR = (
    "so few hardly tell whether some of them stand far from the rest; in drawn leagues of 40 hitters where "
    "some did, 82 % of the leaders' 90 % intervals held, and the likeliest leader truly led in 66 % where "
    "61 % was stated"
)


def answer_rank(question: Question, table: Any, **beside: Any) -> Claim:
    """Answer "nobody does it more often than she does" and "she is one of the five best at it"."""
    top = question.options.get("top", 1 if question.kind == "leads" else 5)
    if isinstance(top, bool) or int(top) != top or top < 1:
        raise ClaimError(f"top={top!r}: give a whole number from 1 up")
    return _Ranking(Setting.asked(question, table, **beside), int(top)).answer()


class _Ranking:
    """One ranking: who is compared, and how likely each is to have one of the highest rates."""

    def __init__(self, setting: Setting, top: int) -> None:
        self.setting, self.top = setting, top
        self.lowest = setting.less
        self.qualified = setting.qualified
        if len(self.qualified) == 1:
            raise ClaimError(
                f"there is no other {setting.question.subject} here to compare with; lower minimum= or "
                "give a table of more"
            )
        if top >= len(self.qualified):
            raise ClaimError(
                f"top {top} of {len(self.qualified)} {setting.question.subject}s holds for everybody; give a "
                "smaller top="
            )
        fit = setting.fit
        none, every = setting.bounds_of_record()  # in place of a rate the bound that is surely reached
        bound = every if self.lowest else none
        self.observed = np.where(setting.both.bounded, bound, fit.data["rate"].to_numpy(float))
        who = setting.question.who
        best = self.observed[self.qualified] * (-1 if self.lowest else 1)
        self.place = int(self.qualified[best.argmax()]) if not who else setting.place(who, qualified=True)
        self.me = int(np.flatnonzero(self.qualified == self.place)[0])
        self.first = bool(best[self.me] == best.max())
        self.called = setting.called(self.place)
        self.name, self.has = self.called.name, self.called.does("has", "have")
        self.rivals = Rivals(self._toward(fit.posterior.only(self.qualified)), self.me, top)
        self.chances = self.rivals.chances()
        end = "lowest" if self.lowest else "highest"
        self.goal = f"the {end} rate" if top == 1 else f"one of the {top} {end} rates"

    def _chances(self, posterior: Posterior) -> np.ndarray[Any, Any]:
        return np.asarray(chance_of_top(self._toward(posterior.only(self.qualified)), self.top))

    def _toward(self, posterior: Posterior) -> Posterior:
        """Turn rates over where the lowest are asked for: the highest of what did not happen."""
        return posterior.of_the_others() if self.lowest else posterior

    def answer(self) -> Claim:
        """Put the answer together."""
        setting, me = self.setting, self.me
        found = self._of_record() if setting.record else self._of_rates()
        toward = self.observed[self.qualified] * (-1 if self.lowest else 1)
        counted = setting.record or setting.untold  # no order by chances that are not given
        order = np.argsort(-toward if counted else -self.chances, kind="stable")
        shown = list(order[:_SHOWN])
        if me not in shown:
            shown.append(me)
        evidence = setting.evidence(self.qualified[np.array(shown)])
        evidence["chance_best" if self.top == 1 else "chance_top"] = self.chances[shown]
        half = setting.fit.half_weight_size
        numbers = {
            **setting.numbers_of(self.place),
            "minimum": setting.minimum,
            "compared": len(self.qualified),
            "top": self.top,
            "half_weight_size": half if np.isfinite(half) else "infinite",
        }
        return setting.answer(self.place, found, evidence, numbers, compared=self.qualified)

    def _of_record(self) -> Finding:
        setting = self.setting
        verdict, say_in_full = self._record()
        of = f"{self.goal} of {setting.rate_name}"
        claim = f"{self.name} {self.has} {of} on the list so far, of {setting.field_words}"
        tempting = f"“{self.name} truly {self.has} {of}.”"
        return Finding(verdict, claim, say_in_full, tempting, would_change=AS_IT_STANDS)

    def _of_rates(self) -> Finding:
        setting, me = self.setting, self.me
        chance = float(self.chances[me])
        verdict = setting.settle(chance, [self.place])
        would = setting.would_change(
            verdict,
            lambda posterior: float(self._chances(posterior)[me]),
            self.qualified,
            f"each of the {len(self.qualified):,}",
            self.place,
            lambda own: self.rivals.chance(self._toward(own)),
        )
        claim = f"{self.name} truly {self.has} {self.goal} of {setting.rate_name} among {setting.field_words}"
        few = self.top == 1 and self.first and int((setting.fit.exposure > 0).sum()) < _TELL_A_TAIL
        record = f"the record, which is another claim: {self._record()[1].rstrip('.')}"
        notes = (*((_FEW_AND_FAR,) if few else ()), record)
        return Finding(verdict, claim, *self._sentences(verdict), chance, setting.assumptions, would, notes)

    def _record(self) -> tuple[Verdict, str]:
        """Settle the record by counting; unknown balls count against the claim and for the others."""
        setting, top, place = self.setting, self.top, self.place
        low, high = setting.bounds_of_record()
        if self.lowest:
            low, high = 1 - high, 1 - low
        others: Wholes = self.qualified[self.qualified != place]
        surely_above = int((low[others] > high[place]).sum())
        maybe_above = int((high[others] > low[place]).sum())
        mine = f"{setting.observed_words(place)}, {setting.record_of(place)}"
        field = setting.field_words
        if surely_above >= top:
            best = others[np.argsort(-low[others], kind="stable")[: min(top, 3)]]
            ahead = ", ".join(f"{setting.called(i).name} ({setting.observed_words(i)})" for i in best)
            one = setting.called(best[0]).does("is", "are")
            first = f"the first {one}" if len(best) == 1 else f"the first {len(best)} are"
            at_best = "number" if maybe_above == surely_above else "at best number"
            listed = "list so far" if not self.lowest else "list so far, from the lowest up"
            return "does not hold", (
                f"{self.name} {self.called.does('is', 'are')} {at_best} {surely_above + 1} on the {listed}, "
                f"of {field}, with {mine}; {first} {ahead}."
            )
        if maybe_above >= top:
            mine = f"{setting.observed_words(place, bounds=True)}, {setting.record_of(place)}"
            what = self.goal if top == 1 else f"in the {'bottom' if self.lowest else 'top'} {top}"
            return "open", (
                f"{self.name} {self.has} {mine}; whether that is {what} of {field} so far depends on balls "
                "of unknown hardness."
            )
        level = [setting.called(i).name for i in others if low[i] == high[i] == low[place]]
        shared = f", level with {' and '.join(level[:3])}" if level else ""
        return "holds", (
            f"{self.name} {self.has} {self.goal} of {setting.rate_name} so far{shared}: {mine}, "
            f"among {field}."
        )

    def _sentences(self, verdict: Verdict) -> tuple[str, str]:
        setting, top, name, goal = self.setting, self.top, self.name, self.goal
        field, rate = setting.field_words, setting.rate_name
        mine, record = float(self.chances[self.me]), setting.record_of(self.place)
        others = np.where(np.arange(len(self.chances)) == self.me, -1.0, self.chances)
        rival = int(np.argsort(-others, kind="stable")[0])
        called = setting.called(self.qualified[rival])
        is_next = f"{called.does('is', 'are')} {called.name} ({chance_text(float(others[rival]))})"
        verb, of, next_one = f"most likely {self.has}", "the chance is", ""
        if verdict == "open":
            verb = "may have"
            next_one = "the next likeliest" if others[rival] < mine else "at least as likely"
        elif verdict == "does not hold":
            does = self.called.does("does", "do")
            verb, next_one = f"most likely {does} not have", "the likeliest"
            of = "the chance that it is so is"
        also = f"; {next_one} {is_next}" if top == 1 and next_one else ""
        say_in_full = (
            f"{name}, with {record}, {verb} {goal} of {rate} among {field}: {of} {chance_text(mine)}{also}."
        )
        proven = "" if verdict == "does not hold" else ", the numbers prove it"
        return say_in_full, f"“{name} {self.has} {goal} of {rate}{proven}.”"
