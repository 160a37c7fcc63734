"""What stands on the page of one hitter, from what was gathered of all."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, NamedTuple

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.approach.readiness import MEASURES
from hitlab.claims.result import Verdict, denies, how_likely, how_sure
from hitlab.counting.events import event_words, per_words, rate_words
from hitlab.counting.looks import AGAINST, call_by_chance
from hitlab.counting.situations import Situation
from hitlab.demonstration import called
from hitlab.errors import HitlabError, quiet_warnings
from hitlab.estimates.ranking import above_the_rest
from hitlab.evidence.cut_lists import SUPPORTS, cut_list
from hitlab.over_time.form import Form, form_over_time
from hitlab.over_time.form_law import STRETCH
from hitlab.over_time.stretches import hitter_key
from hitlab.pages import words
from hitlab.pages.gathering import League
from hitlab.pages.page import HitterPage, Reader, Section
from hitlab.pitches.opening import file_of
from hitlab.questions.fitted import Fitted
from hitlab.questions.question import CAREER
from hitlab.showing import shown_name
from hitlab.spoken import share_said
from hitlab.wording import capitalised, chance_text, level_words, rate_text, record_text, source_name

__all__ = ["page_of"]

_PITCHES_A_SIDE = {"coach": 5, "player": 2}
_SITUATIONS = 9  # rows; the others are named
_NOTES = 8
_CHARACTERS_OF_NOTES = 1_600  # together: that many fit beside the rest on the second side
_TWICE = 2.0  # times the odds, of a streak that is looked for


class _Made(NamedTuple):
    """A part of the page, and what it found too little to say; empty for none."""

    section: Section
    little: str = ""


def page_of(league: League, place: int, reader: Reader) -> HitterPage:
    """Return the page of one hitter.

    Parameters
    ----------
    league
        What was gathered.
    place
        The hitter's row in its counts.
    reader
        For whom.
    """
    return _Maker(league, place, reader).page()


@dataclass
class _Maker:
    """One hitter's page in the making."""

    league: League
    place: int
    reader: Reader

    @cached_property
    def label(self) -> str:
        """What the hitter is called."""
        return self.league.counts.labels[self.place]

    @property
    def key(self) -> Any:
        """What tells the hitter apart."""
        counts = self.league.counts
        return counts.data[counts.by[0]].iloc[self.place]

    def page(self) -> HitterPage:
        """Put the page together."""
        league = self.league
        plain = self.reader == "player"
        sections: dict[str, Section] = {}
        became = self.became()
        sections["became"] = (
            Section(missing="What became of every swing is not shown: the table does not count it.")
            if became is None
            else Section(_unknown_hardness(became))
            if became["number"].sum()
            else Section(missing="What became of every swing is not shown: no swing was counted.")
        )
        form, why_no_form = self.form()
        over_time = self.form_section(form, why_no_form)
        fastballs = self.fastballs()
        little = [*words.too_little(self.rates), over_time.little]
        if plain:
            sections |= self.spoken()
        else:
            sections = {"short": self.short(), **sections, "rates": self.rates_section()}
        sections["standing"] = self.standing()
        sections["form"] = over_time.section
        if not plain:
            situations = self.situations()
            sections["situations"] = situations.section
            little.append(situations.little)
        sections["fastballs"] = fastballs.section
        if not plain:
            told = tuple(line for line in (*little, fastballs.little) if line)
            sections["little"] = Section(told or ("Nothing of what is on this page.",))
        sections["pitches"] = self.pitches()
        sections["notes"] = self.notes()
        source = file_of(league.table) if league.pitches else ""
        return HitterPage(
            self.rates,
            self.label,
            self.about(),
            self.reader,
            league.event,
            league.per,
            league.main.fit.level,
            pd.DataFrame(columns=["words", "number", "others", "fill"]) if became is None else became,
            self.field(),
            sections,
            form,
            source,
        )

    @cached_property
    def rates(self) -> pd.DataFrame:
        """One row a rate: record, estimate, and where it stands."""
        rows = [self._rate(pair, setting) for pair, setting in self.league.settings.items()]
        return pd.DataFrame(rows)

    def _rate(self, pair: tuple[str, str], setting: Fitted) -> dict[str, Any]:
        place, fit, both = self.place, setting.fit, setting.both
        own = setting.rows_of([place]).iloc[0]
        measured = both.measured_exposure
        left = int(measured.sum() - measured[place])
        bounded, seen = bool(both.bounded[place]), int(both.exposure[place]) > 0
        others = float((both.events.sum() - both.events[place]) / left) if left else np.nan
        chance, settled = np.nan, False
        if left and seen and not bounded:
            chance = above_the_rest(fit.posterior, place, measured)
            reasons, untold = setting.unmeasured([place])
            settled = not reasons
            if untold:
                chance = np.nan
        low, high = self.league.ranks[pair].get(self.label, (None, None))
        told = (
            dict.fromkeys(("shrunk", "low", "high"), np.nan)
            if bounded
            else dict(own[["shrunk", "low", "high"]])
        )
        return {
            "event": pair[0],
            "per": pair[1],
            "rate_words": rate_words(*pair),
            "events": int(both.events[place]),
            "exposure": int(both.exposure[place]),
            "rate": float(both.rate[place]),
            "least": float(both.least[place]),
            "most": float(both.most[place]),
            **told,
            "own_weight": float(own["own_weight"]),
            "others": others,
            "chance_above": chance,
            "verdict": words.verdict_word(chance, settled),
            "rank_low": low,
            "rank_high": high,
            "ranked": len(self.league.ranks[pair]),
            "half_weight": float(fit.half_weight_size),
        }

    def about(self) -> tuple[str, ...]:
        """Say whose page it is and what was seen."""
        counts, row = self.league.counts, self.league.counts.data.iloc[self.place]
        lines = []
        if "club" in counts.data and pd.notna(row["club"]):
            lines.append(shown_name(row["club"]))
        seen = [
            f"{int(row[name]):,} {per_words(name, int(row[name]))}"
            for name in (
                ("swings",) if self.reader == "player" else ("plate_appearances", "pitches", "swings")
            )
            if name in counts.names
        ]
        source = source_name(called(counts.source))
        days = f"games {self.league.dates}" if self.league.dates else ""
        asked = self.league.main.question.season
        season = "the whole career" if asked == CAREER else f"season {shown_name(asked)}" if asked else ""
        lines.append("; ".join(part for part in (source, season, days, ", ".join(seen)) if part))
        return ("; ".join(lines),) if self.reader == "player" else tuple(lines)

    def became(self) -> pd.DataFrame | None:
        """Return what became of every swing, and of the others'."""
        counts = self.league.counts
        if not {"swings", "whiffs", "fouls", "in_play"} <= set(counts.names):
            return None
        column = counts.column
        tips = (
            column("foul_tips")
            if counts.conventions.foul_tip == "contact" and "foul_tips" in counts.names
            else 0
        )
        parts: list[tuple[str, Any, int]] = [
            ("missed", column("whiffs"), 0),
            ("fouled off", column("fouls") + tips, 1),
        ]
        in_play = column("in_play")
        if "hard" in counts.names and not counts.conventions.hard_fouls:
            hard = column("hard")
            unknown = column("unmeasured") if "unmeasured" in counts.names else np.zeros_like(hard)
            parts += [
                ("in play, not hard", in_play - hard - unknown, 2),
                ("in play, hardness unknown", unknown, 3),
                ("hit hard", hard, 4),
            ]
        else:
            parts.append(("in play", in_play, 2))
        rows = [(text, int(n[self.place]), int(n.sum() - n[self.place]), fill) for text, n, fill in parts]
        table = pd.DataFrame(rows, columns=["words", "number", "others", "fill"])
        unseen = (table["number"] == 0) & (table["fill"] == 3)
        return table[~unseen].reset_index(drop=True)

    def short(self) -> Section:
        """Say what stands out."""
        out = self.rates[self.rates["verdict"] != "open"]
        sure = (out["chance_above"] - 0.5).abs().sort_values(ascending=False, kind="stable").index
        lines = [words.against_the_others(out.loc[at]) for at in sure[:4]]
        return Section((*lines, words.looked_at(self.rates)))

    def spoken(self) -> dict[str, Section]:
        """Say the rates to the player, by how they compare."""
        groups: dict[str, list[str]] = {"often": [], "seldom": [], "alike": []}
        for _, rate in self.rates.iterrows():
            if not rate["exposure"] or np.isnan(rate["shrunk"]):
                continue
            name = {"above": "often", "below": "seldom", "open": "alike"}[rate["verdict"]]
            groups[name].append(words.you_do_it(rate))
        empty = {
            "often": "Nothing that we could be sure of yet.",
            "seldom": "Nothing that we could be sure of yet.",
            "alike": "Nothing: all of it is above or below what the others do.",
        }
        if not any(groups.values()):
            empty["alike"] = "Everything: there are no swings to count by."
        return {name: Section(tuple(lines) or (empty[name],)) for name, lines in groups.items()}

    def rates_section(self) -> Section:
        """Give the table of rates."""
        table = pd.DataFrame([words.rate_row(rate) for _, rate in self.rates.iterrows()])
        level = level_words(self.league.main.fit.level)
        said = [
            "Best estimate: the record, pulled toward what everybody does by as much as luck can have made "
            f"it. Probably between: where the true rate lies with a chance of {level}."
        ]
        said += [
            f"Not counted: {name}, because {_lower(why)}."
            for name, why in self.league.missing.items()
            if name not in ("situations", "form", "fastballs", "pitches")
        ]
        return Section(tuple(said), table)

    def field(self) -> pd.DataFrame:
        """Return everybody's shrunk rates as a picture draws them."""
        plain, tables = self.reader == "player", []
        for _, rate in self.rates.iterrows():
            pair = (rate["event"], rate["per"])
            if not rate["exposure"] or np.isnan(rate["shrunk"]):
                continue
            said = (
                words.do_it(rate["verdict"])
                if plain
                else _said(rate["verdict"], float(rate["chance_above"])) + _placed(rate)
            )
            others = self.league.evened[pair]
            others = others.loc[others["place"] != self.place, ["shrunk"]].assign(mine=False, said="")
            mine = pd.DataFrame(
                [
                    {
                        **{name: rate[name] for name in ("shrunk", "low", "high", "others")},
                        "mine": True,
                        "said": said,
                    }
                ]
            )
            rows = pd.concat([mine, others], ignore_index=True)
            rows.insert(0, "rate", words.short_name(*pair) if plain else rate["rate_words"])
            tables.append(rows)
        if not tables:
            return pd.DataFrame(columns=["rate", "shrunk", "low", "high", "others", "mine", "said"])
        return pd.concat(tables, ignore_index=True)

    def standing(self) -> Section:
        """Say how to read the picture of everybody, and what the ranks may be."""
        known = self.rates[(self.rates["exposure"] > 0) & self.rates["shrunk"].notna()]
        if not len(known):
            why = f"no {per_words(self.league.per, 2)} were counted"
            return Section(missing=f"Where the hitter stands is not shown: {why}.")
        if self.reader == "player":
            said = (
                "Thin lines: other hitters. Dot: you. Bar: where you may really be. Tall line: all others "
                "together."
            )
        else:
            said = (
                "Thin lines: hitters with at least a quarter of the largest record, by best estimate. Dot "
                "and bar: this one, and where the true rate probably is. Tall line: everybody else together. "
                "At the right: above or below them with which chance, or open and the chance to be above; "
                "and the place from the top that the true rate has with a chance of "
                f"{level_words(self.league.main.fit.level)}."
            )
        return Section((said,))

    def form(self) -> tuple[Form | None, str]:
        """Return the rate over time; ``None`` where there is none, and why."""
        games = self.league.games
        if games is None:
            return None, self.league.missing["form"]
        key = hitter_key(games)
        mine = games.only((games.data[key] == self.key).to_numpy(bool))
        many = int((mine.column(self.league.per) > 0).sum()) if self.league.per in mine.names else 0
        if many <= STRETCH:
            told = f"{'is' if many == 1 else 'are'} {many} game{'' if many == 1 else 's'}"
            what = per_words(self.league.per, 2)
            return None, f"it is looked at over {STRETCH} games at a time, and there {told} with {what}"
        try:
            with quiet_warnings():
                form = form_over_time(mine, str(self.key), self.league.event, self.league.per)
        except HitlabError as error:
            return None, str(error).rstrip(".")
        if form.untold:
            plain = "too many of the balls that were hit were not measured"
            return None, plain if self.reader == "player" else form.untold
        return replace(form, hitter=self.label), ""

    def form_section(self, form: Form | None, why: str) -> _Made:
        """Say what was found over time, or why nothing was."""
        if form is None:
            return _Made(Section(missing=f"Form over time is not shown: {_lower(why)}."))
        if self.reader == "player":
            said = (
                "Your ups and downs look like luck: some games more, some less, as with everybody. Nothing "
                "says that you have become another hitter."
                if form.within_luck
                else "Your ups and downs are larger than luck usually makes them. Look at the games together "
                "with your coach."
            )
            return _Made(Section((said,)))
        little = ""
        if form.within_luck:
            seen = chance_text(form.chance_to_see(_TWICE, STRETCH))
            little = (
                "Hot or cold: the ups and downs are within luck. "
                f"A stretch of {STRETCH} games with twice the odds would have stood out with a chance of "
                f"{seen}."
            )
        return _Made(Section((form.explanation,)), little)

    def situations(self) -> _Made:
        """Say which situations say something."""
        splits = self.league.splits
        if splits is None:
            why = _lower(self.league.missing["situations"])
            return _Made(Section(missing=f"Situations are not shown: {why}."))
        key = self.league.counts.by[0]
        mine = splits.data[splits.data[key] == self.key].reset_index(drop=True)
        if not len(mine):
            none = "the hitter has none both inside and outside of one"
            return _Made(Section(missing=f"Situations are not shown: {none}."))
        called = call_by_chance(mine, "chance_above_usual")
        out = called.data
        quiet = mine[~mine["situation"].isin(out["situation"])]
        quiet = quiet.sort_values("inside_exposure", ascending=False, kind="stable")
        rows = pd.concat([out, quiet.head(max(_SITUATIONS - len(out), 0))]).head(_SITUATIONS)
        table = pd.DataFrame([_situation_row(row) for _, row in rows.iterrows()])
        left = quiet[~quiet["situation"].isin(rows["situation"])]
        said = [
            f"{capitalised(rate_words(splits.event, splits.per))}, {AGAINST['usual']}: {called.explanation}."
        ]
        if len(left):
            said.append(f"Looked at, too, and nothing of its own: {words.named(list(left['situation']))}.")
        little = (
            f"{len(quiet)} of {len(mine)} situations: no more is known of the hitter there than what the "
            "situation does to everybody."
        )
        return _Made(Section(tuple(said), table), little if len(quiet) else "")

    def fastballs(self) -> _Made:
        """Say who is on time for fastballs."""
        ready = self.league.readiness
        if ready is None:
            why = _lower(self.league.missing["fastballs"])
            if self.reader == "player":  # who has no columns
                why = "too little was written down about them"
            return _Made(Section(missing=f"Fastballs are not shown: {why}."))
        found = ready.data[ready.data["hitter_id"] == self.key]
        if not len(found) or not found["tries"].iloc[0]:
            what = (
                "foul at a fastball with a direction"
                if ready.measure == "not_late"
                else "fastball to judge by"
            )
            return _Made(Section(missing=f"Fastballs are not shown: there is no {what}."))
        one = found.iloc[0]
        tries, got = int(one["tries"]), int(one["successes"])
        verdict = words.verdict_word(float(one["chance_above"]))
        chance = float(one["chance_above"]) if verdict != "below" else 1 - float(one["chance_above"])
        measure = MEASURES[ready.measure]
        expected = float(one["league"]) / tries
        if self.reader == "player":
            return _Made(Section((_fastballs_plain(ready.measure, got / tries, expected, verdict),)))
        side = "below" if verdict == "below" else "above"
        state: Verdict = "open" if verdict == "open" else "holds"
        likely, sure = how_likely(state, chance), how_sure(chance, denies(state, chance), "to be above")
        said = [
            f"{capitalised(measure)}, {ready.count_words}: {record_text(got, tries)} "
            f"({rate_text(got / tries)}); everybody else on the same speeds and places "
            f"{rate_text(expected)}. The hitter {likely} {side} them; {sure}."
        ]
        little = ""
        if verdict == "open":
            left = f"{'try leaves' if tries == 1 else 'tries leave'} it open"
            chances = f"chance to be above {words.open_chance(chance)}"
            little = f"Readiness for the fastball: {tries:,} {left} ({chances})."
        if ready.direction_told:
            said.append(capitalised(ready.direction_finding(self.key)))
        parts = ready.parts[ready.parts["hitter_id"] == self.key]
        table = pd.DataFrame(
            {
                "Place, under two strikes": parts["part"],
                "Swings": parts["swings"],
                "Missed": parts["whiffs"],
                "Fouled": parts["fouls"],
                "Fair": parts["fair"],
                "Hit hard": parts["hard"],
            }
        ).reset_index(drop=True)
        if table["Hit hard"].isna().all():
            table = table.drop(columns="Hit hard")
        return _Made(Section(tuple(said), table), little)

    def pitches(self) -> Section:
        """List the pitches to watch."""
        league = self.league
        frame = league.frame
        if frame is None:
            return Section(missing=f"Pitches to watch are not listed: {_lower(league.missing['pitches'])}.")
        own = frame[league.rows.get(self.key, np.array([], dtype=int)).tolist()]
        most = _PITCHES_A_SIDE[self.reader]
        try:
            with quiet_warnings():
                cut = cut_list(
                    own.to_native(),
                    Situation(lambda _: nw.lit(True), "", (), ()),
                    event=league.event,
                    per=league.per,
                    most=most,
                    conventions=league.conventions,
                )
        except HitlabError as error:
            return Section(missing=f"Pitches to watch are not listed: {_lower(str(error).rstrip('.'))}.")
        if not len(cut):
            return Section(
                missing=f"Pitches to watch are not listed: no {per_words(league.per, 2)} were counted."
            )
        table = pd.DataFrame([_pitch_row(row, self.reader) for _, row in cut.data.iterrows()])
        table = table.loc[:, (table != "").any()]
        said = []
        if self.reader == "coach":
            first = int((cut.data["side"] == SUPPORTS).sum())
            what, of = event_words(league.event), per_words(league.per, 2)
            said.append(
                f"First {what} ({first}), then other {of}; of equals the latest first. So few prove "
                "nothing: they are for the eye."
            )
        lacking = [name for name in ("date", "inning", "pitch", "clip") if name not in league.columns]
        if lacking and self.reader == "coach":
            said.append(f"Without {', '.join(lacking)}: the table has no such column.")
        return Section(tuple(said), table)

    def notes(self) -> Section:
        """Say what has to be known of the numbers."""
        setting = self.league.main
        counts = self.league.counts
        if self.reader == "player":
            lines = [
                "We counted every swing: misses, fouls, balls in play. A few swings say little, many say "
                "more. Where we are not sure, we say so.",
                "None of this says why. Your coach has the long page.",
            ]
            means = counts.hard_means
            if means and any("hard" in str(event) for event in self.rates["event"]):
                lines.append(f"Hard means {means}.")
            if self.league.prior is not None:
                lines.append("What hitters usually do was told to us beforehand; it is not from these games.")
            untold = counts.cannot_tell(self.league.event, self.league.per)
            return Section((*lines, *((f"{capitalised(untold)}.",) if untold else ())))
        told = [*setting.season_notes, *setting.notes_for("underlying"), *setting.assumptions]
        noted = list(dict.fromkeys(told))
        lines = _that_fit([f"{capitalised(note)}." for note in noted])
        if more := len(noted) - len(lines):
            noun = "note stands" if more == 1 else "notes stand"
            lines.append(f"{more} more {noun} with `hitlab check above`.")
        lines.append(f"Counts {setting.fingerprint}.")
        return Section(tuple(lines))


def _lower(why: str) -> str:
    """Return a reason as the second half of a sentence; a name that it begins with stays."""
    first = why.partition(" ")[0]
    begins = first in ("A", "No", "The", "These", "This", "More", "Too")
    return f"{why[0].lower()}{why[1:]}" if begins else why


def _that_fit(lines: list[str]) -> list[str]:
    """Return the first of some lines that fit on the page; the first always does."""
    many = [n for n in range(1, _NOTES + 1) if sum(map(len, lines[:n])) <= _CHARACTERS_OF_NOTES]
    return lines[: max(many, default=1)]


def _unknown_hardness(became: pd.DataFrame) -> tuple[str, ...]:
    """Say how many balls in play nobody judged, where there are any."""
    number = int(became.loc[became["fill"] == 3, "number"].sum())
    return (f"Balls in play of which nobody knows how hard they were hit: {number:,}.",) if number else ()


def _said(verdict: str, chance: float) -> str:
    """Return a verdict with its chance; of one that is open the chance to be above."""
    if verdict == "open":
        return f"open, {words.open_chance(chance)}"
    return f"{verdict}, {chance_text(chance if verdict == 'above' else 1 - chance)}"


def _placed(rate: pd.Series[Any]) -> str:
    """Return which places from the top the true rate may have."""
    low, high = rate["rank_low"], rate["rank_high"]
    return "" if pd.isna(low) else f"; place {low:.0f} to {high:.0f} of {rate['ranked']:,}"


def _situation_row(row: pd.Series[Any]) -> dict[str, str]:
    """Return the cells of one situation."""
    above = float(row["chance_above_usual"])
    verdict = words.verdict_word(above)
    says = {
        "above": f"more, {chance_text(above)}",
        "below": f"less, {chance_text(1 - above)}",
        "open": "nothing",
    }[verdict]
    return {
        "Situation": str(row["situation"]),
        "There": f"{record_text(row['inside_events'], row['inside_exposure'])}",
        "Elsewhere": rate_text(row["rest_rate"]),
        "Estimate there": rate_text(row["shrunk_rate"]),
        "Everybody there": rate_text(row["league_rate"]),
        "It says": says,
    }


def _fastballs_plain(measure: str, share: float, expected: float, verdict: str) -> str:
    """Say to the player how it goes against fastballs."""
    mine, theirs = share_said(share), share_said(expected)
    text = {
        "not_late": "Of your fouls off fastballs, {} went straight back or to your pull side",
        "fair": "Of the fastballs that you touched, {} stayed fair",
        "touched": "Of your swings at fastballs, {} touched the ball",
        "hard": "Of your swings at fastballs, {} hit it hard",
    }[measure].format(mine)
    beside = {
        "above": "That is more than the others on the same pitches",
        "below": "That is less than the others on the same pitches",
        "open": "Compared with the others on the same pitches it is too close to call",
    }[verdict]
    return f"{text}. {beside} ({theirs})."


def _pitch_row(row: pd.Series[Any], reader: Reader) -> dict[str, str]:
    """Return the cells of one pitch to watch."""

    def told(name: str) -> str:
        value = row.get(name)
        if value is None or pd.isna(value):
            return ""
        if isinstance(value, float | np.floating):
            return f"{value:g}"
        return shown_name(str(value)[:10] if name == "date" else value)

    inning = " ".join(part for part in (told("half"), told("inning")) if part)
    visit, pitch = told("plate_appearance"), told("pitch")
    which = f"{visit}, pitch {pitch}" if visit and pitch else visit
    count = f"{told('balls')}-{told('strikes')}" if told("balls") and told("strikes") else ""
    cells = {
        "What": told("why"),
        "Day": told("date") or told("game"),
        "Inning": inning,
        "Plate appearance": which,
        "Count": count,
        "Pitch": told("pitch_kind"),
    }
    if reader == "coach":
        cells |= {
            "Pitcher": told("pitcher"),
            "Off the bat": f"{told('exit_mph')} mph" if told("exit_mph") else "",
        }
    return {**cells, "Clip": told("clip")}
