# %% [markdown]
# # 3. Check a claim
#
# From a coach's sheet to one sentence that is safe to say. You need no baseball and no statistics, but lessons 1 and 2
# help.

# %%
from textwrap import fill

import hitlab
import numpy as np
import pandas as pd
from hitlab import plots
from hitlab.evidence import card, game_dates
from hitlab.exercises import check, choose, confidence, hint, progress, review, solution
from hitlab.exercises.sliders import move_it
from hitlab.wording import percent, rate_text

# %% [markdown] tags=["review"]
# **Three questions from before.** They have other numbers each time, and what you miss comes again.

# %% tags=["review"]
review("03")

# %% tags=["answer", "review"]
review("03", ..., ..., ...)

# %% tags=["review", "solution"]
from hitlab.exercises import right_of_review

review("03", *right_of_review("03"))

# %% [markdown]
# ## The claim
#
# Ten minutes to air, somebody hands you a sentence:
#
# > "Nadia Izezno hits it hard more often than anybody else in this league. She leads the list. What more do you want?"
#
# You may put it on the screen, change it, or throw it away. The league is invented, and so are its people.

# %% [markdown]
# ## Three goals
#
# After this lesson you can
#
# 1. read a pitch table, and know what was thrown out of it before you count;
# 2. tell a claim about the record from a claim about who is better, and check both;
# 3. notice when a number was searched for, and say only what is safe to say.

# %% [markdown]
# ## What you need
#
# Nothing but this notebook. Run a cell with Shift+Enter, from top to bottom.
#
# Core: about 50 minutes. Optional: about 10 minutes.
#
# You may move on when the core exercises say *right*. If time is short, leave out "A messy sheet" and the exercise marked
# optional.

# %% [markdown]
# ## Your verdict first
#
# Nadia leads the list of hard-hit balls per swing, among hitters with at least 150 swings. The claim says that she truly
# hits it hard most often: that after a million swings of everybody she would still be first.
#
# What can we say after the season so far? `"holds"`, `"does not hold"`, or `"open"` (the numbers do not settle it)?
# And how sure are you, from 1/3 (a blind guess among three) to 1 (certain)?

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("03", "before", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "holds"
sure = 0.5
confidence("03", "before", verdict, sure)

# %% [markdown]
# ## New words
#
# - **record**: what happened, counted. It can be looked up, and it is never in doubt.
# - **underlying rate**: how often it would happen in the long run (the true rate of lesson 2). It is always in doubt.
# - **minimum**: the fewest swings with which a hitter is compared at all.
# - **bounds**: how large a chance has to be before we say "holds", and how small before "does not hold".
# - **plate appearance**: one hitter's turn at bat.

# %% [markdown]
# As before: a *swing* is any try to hit the ball, and it is *hard* if the ball stays between the lines and leaves the bat
# at 95 miles an hour or more.

# %% tags=["asserted"]
assert hitlab.Conventions().threshold_mph == 95

# %% [markdown]
# ## Look
#
# ### A messy sheet
#
# Every claim begins with a table that somebody typed. This is one week of a coach's own sheet, in his own words and in
# kilometres an hour:

# %%
folder = hitlab.demonstration.demo_folder()
sheet = pd.read_csv(folder / "week.csv", dtype=str, keep_default_na=False)
sheet[["Day", "Who", "Count", "Thrown", "km/h", "What happened", "Loud"]].iloc[5:9]

# %% [markdown]
# Let us spoil four cells, as it happens on a long bus ride, and read it. The file `week.toml` says what his words mean.

# %%
sheet.loc[3, "What happened"] = "crushed it"
sheet.loc[10, "Count"] = "5-1"
sheet.loc[20, "Who"] = ""
sheet.loc[30, "km/h"] = "999"
reading = hitlab.read_pitches(sheet, folder / "week.toml")
report = reading.report
print(f"{report.rows_read:,} rows read, {report.rows_set_aside} set aside")
reading.set_aside[["row", "source_column", "value", "reason", "action"]]

# %% tags=["asserted"]
assert report.rows_set_aside == 2
assert report.values_made_missing == 2
assert set(reading.set_aside["row"]) == {4, 11, 21, 31}
assert set(reading.table["hard_source"].dropna()) == {"eye"}

# %% [markdown]
# Nothing was guessed and nothing vanished. Without an outcome or a name a row cannot be counted, so it was set aside; a
# broken speed or count costs only that cell. Read this list first. A claim is as good as the rows that were left.
#
# One more thing stands in the report: here *hard* is what the coach called loud. The same games were also measured. Do
# eye and radar agree?

# %%
season = pd.read_parquet(hitlab.demo_season())
pitch = ["game", "plate_appearance", "pitch"]
week = reading.table.merge(season, on=pitch, suffixes=("", "_measured"))
week = week.dropna(subset=["hard", "exit_mph"])
differ = week["hard"].astype(bool) != (week["exit_mph"] >= 95)
print(f"{len(week)} balls in play; on {differ.sum()} of them eye and radar differ")

# %% tags=["asserted"]
assert 0.05 < differ.mean() < 0.20
assert week["hitter"].eq(week["hitter_measured"]).all()

# %% [markdown]
# Numbers judged by eye and numbers from a radar do not belong on one list. So we go on with the league's own table of the
# whole season, measured throughout.

# %% [markdown]
# ### Count, and choose the denominator
#
# The claim says "more often". Out of what? The list says per swing, so we divide by swings. And a minimum keeps out those
# who swung three times: 150 swings. Write both down **before** you look at who is where.

# %%
counts = hitlab.tally(hitlab.demo_season())
per_swing = hitlab.rate(counts, "hard", per="swings", minimum=150)
plots.show(plots.rate_list(per_swing, most=10))

# %% [markdown]
# ### The record
#
# First question: does she lead the list? That is counting, nothing else.

# %%
record = hitlab.check_leads(counts, "Nadia Izezno", about="record", minimum=150)
print(record.verdict_line)
print(fill(record.say_in_full, 88))
print(fill("Avoid: " + record.avoid, 88))

# %% tags=["asserted"]
assert record.verdict == "holds"
assert record.chance is None
assert per_swing.table().nlargest(1, "rate")["hitter"].iloc[0] == "Nadia Izezno"

# %% [markdown]
# She does. The record holds. But look at the sentence to avoid: the list does not say who is *better*. That is the
# second question, and it has an answer of its own.

# %% [markdown] tags=["exercise"]
# ### First and best (predict, core, 3 min)
#
# She is first among 103 hitters. In per cent, how large is the chance that hers is **truly** the highest rate of all?
# Give a low and a high end, at most 20 apart: `answer = 70, 90`, for instance.

# %% tags=["answer"]
answer = ...
check("03.first-and-best", answer)

# %% tags=["solution"]
from hitlab.exercises.lesson_03 import chance_best

answer = 100 * chance_best() - 9, 100 * chance_best() + 9
check("03.first-and-best", answer)

# %% [markdown]
# ### Who is better

# %%
claim = hitlab.check_leads(counts, "Nadia Izezno", minimum=150)
print(claim.verdict_line)
print(fill(claim.say_in_full, 88))
print()
print(fill("On air: " + claim.say, 88))

# %% tags=["asserted"]
assert claim.verdict == "open"
assert claim.numbers["compared"] == 103
assert abs(claim.chance - chance_best()) < 1e-9  # of the exercise above
assert 0.10 < claim.chance < 0.45
assert claim.evidence["chance_best"].iloc[0] == claim.evidence["chance_best"].max()

# %%
plots.show(plots.claim(claim))

# %% [markdown]
# The rings are the record; the dots are the rates of lesson 2, pulled toward the mean of all. (Some balls were not
# measured; the package says how many.)
#
# Nadia is the likeliest of all, and still it is likelier that somebody else is best. Both at once: a hundred others share
# what is left.
#
# That is no flaw of the method. It is what 547 swings can tell.

# %% tags=["asserted"]
assert claim.numbers["exposure"] == 547
assert claim.chance < 0.5

# %% [markdown]
# ### The bounds
#
# The verdict is made by two bounds. From a chance of 90 % up the claim holds; up to 10 % it does not; between them it is
# open. They were fixed before anybody looked, and that is the point of them.
#
# What do they promise? That of the claims that hold, at least nine in ten are true. Check it in a league where we know
# the truth: for each of 2,000 hitters somebody claims that he is above .150.

# %%
rng = np.random.default_rng(3)
truth = rng.normal(0.14, 0.02, 2_000)
who = [f"hitter {number}" for number in range(2_000)]
league = pd.DataFrame({"hitter": who, "hard": rng.binomial(500, truth), "swings": 500})
chance = hitlab.shrink(league, "hard", "swings").posterior.above(0.15)
for words, which in {
    "holds": chance >= 0.9,
    "open": (chance > 0.1) & (chance < 0.9),
    "does not hold": chance <= 0.1,
}.items():
    share = percent(np.mean(truth[which] > 0.15))
    print(f"{words:13} {which.sum():5} claims, {share} of them true")

# %% tags=["asserted"]
assert (percent(claim.holds_at), percent(claim.fails_at)) == ("90 %", "10 %")
assert rate_text(0.15) == ".150"
assert np.mean(truth[chance >= 0.9] > 0.15) > 0.9
assert np.mean(truth[chance <= 0.1] > 0.15) < 0.1
assert np.mean((chance > 0.1) & (chance < 0.9)) > 0.3

# %% [markdown]
# The promise is kept. Note how many stay open. "Open" is not a failure; it is often the true state of things.

# %% [markdown]
# ### Smaller claims
#
# "The best of all" asks for much. Ask for less, and the same swings may settle it:

# %%
smaller = {
    "one of the three best": hitlab.check_top(counts, "Nadia Izezno", top=3),
    "truly above .140": hitlab.check_above(counts, "Nadia Izezno", 0.14),
    "better than Greta": hitlab.check_ahead(counts, "Nadia Izezno", "Greta Kestelow"),
}
for words, checked in smaller.items():
    print(f"{words:22} {checked.verdict_line.partition(';')[0]})")

# %% tags=["asserted"]
assert rate_text(0.14) == ".140"
assert smaller["one of the three best"].verdict == "open"
assert smaller["one of the three best"].chance > claim.chance
assert smaller["truly above .140"].verdict == "holds"
assert smaller["better than Greta"].verdict == "open"
assert smaller["better than Greta"].chance > 0.6
assert abs(hitlab.rate(counts, "hard", "swings").table()["rate"].median() - 0.14) < 0.01

# %% [markdown]
# One of them holds: she truly hits it hard more often than the usual hitter of this league, who is near .140. That is a
# sentence for the air.
#
# Or ask about a *situation*. Somebody says: she feasts on breaking balls (pitches that curve).

# %%
breaking = hitlab.situation("pitch_kind=breaking")
inside = hitlab.tally(hitlab.demo_season(), where=breaking)
split = hitlab.check_split(
    counts, "Nadia Izezno", inside=inside, situation=breaking.words
)
print(split.verdict_line)
print(fill(split.say_in_full, 88))

# %% tags=["asserted"]
assert split.verdict == "does not hold"
assert split.evidence["league_rate"].iloc[0] < split.evidence["league_rate"].iloc[1]

# %% [markdown]
# She does not; hardly anybody does. And this was *one* look, with the situation named beforehand. What if we had looked
# at ten situations, and had told you the best one?

# %% [markdown]
# ## Simulate
#
# Make a hitter for whom no situation matters at all: every swing of hers is hard with the same chance. Then look at ten
# situations: day and night, home and away, first pitch, whatever. Each time we ask whether the two halves differ, with a
# 90 % interval for the difference. We live through her season 1,000 times.

# %%
seasons, swings, looks = 1_000, 500, 10
hard = rng.random((seasons, swings)) < 0.14
inside_hard, inside_all = np.zeros((2, looks, seasons), dtype=int)
for look in range(looks):
    situation = rng.random((seasons, swings)) < 0.5  # means nothing
    inside_hard[look] = (hard & situation).sum(axis=1)
    inside_all[look] = situation.sum(axis=1)
rest_hard, rest_all = hard.sum(axis=1) - inside_hard, swings - inside_all


def struck(level):
    low, high = hitlab.counting.difference_interval(
        inside_hard, inside_all, rest_hard, rest_all, level
    )
    return (low > 0) | (high < 0)


# %%
striking = struck(0.90)
print("striking at one look:         ", percent(striking[0].mean()))
print("at least one among ten looks: ", percent(striking.any(axis=0).mean()))

# %% tags=["asserted"]
assert struck(0.90).shape == (10, 1_000)
assert 0.07 < striking.mean() < 0.13
assert 0.58 < striking.any(axis=0).mean() < 0.72

assert percent(0.9) == "90 %"

# %% [markdown]
# One look is fooled one time in ten, as the interval promised. Ten looks find something "striking" about two times in
# three, where there is nothing at all to find. And only the striking one gets told.
#
# The cure is to count the looks. Who looks ten times has to ask ten times as much of each: 99 % in place of 90 %.

# %%
print(
    "at 99 %, at least one among ten looks:", percent(struck(0.99).any(axis=0).mean())
)

# %% tags=["asserted"]
assert percent(0.99) == "99 %"
assert struck(0.99).any(axis=0).mean() < 0.15

# %% [markdown]
# Now the ten looks together are fooled about as often as one was. So whenever a number surprises you, ask first: *how many
# did you look at?*

# %% [markdown]
# ## Move it
#
# Whoever chooses the minimum chooses the leader. Move it, and watch who is on top and how wide the lines
# are. (Click the slider, then use the arrow keys.)

# %%


def ten_best(minimum):
    rates = hitlab.rate(counts, "hard", per="swings", minimum=minimum)
    return plots.rate_list(rates, most=10)


# %% tags=["slider"]
move_it(ten_best, "fewest swings", [1, 25, 50, 100, 150, 300], start=1)

# %% tags=["asserted"]
tops = []
for minimum in (1, 25, 50, 100, 150, 300):
    rates = hitlab.rate(counts, "hard", per="swings", minimum=minimum).table()
    tops.append(rates.nlargest(1, "rate").iloc[0])
assert len({row["hitter"] for row in tops}) >= 3
assert tops[0]["swings"] < 10
assert tops[-1]["hitter"] == tops[-2]["hitter"] == "Nadia Izezno"
assert tops[0]["high"] - tops[0]["low"] > 4 * (tops[-1]["high"] - tops[-1]["low"])

# %% [markdown]
# With no minimum somebody leads who swung seven times. That is why the minimum belongs in the sentence ("among hitters
# with at least 150 swings"), and why it is fixed before looking.

# %% tags=["asserted"]
assert tops[0]["swings"] == 7

# %% [markdown]
# ## Exercises
#
# Put your answer in place of the dots and run the cell. You may try as often as you like.
#
# Stuck? Type `hint("03.one-in-three")` (or another name) in the cell, once or twice. After that,
# `solution("03.one-in-three")` tells all.

# %% [markdown] tags=["exercise"]
# ### One in three (denominator, core, 2 min)
#
# A colleague has another sentence: "Whenever Nadia steps up to the plate, there is one chance in three that she hits one
# hard." The same hard balls stand above the line. What has to stand below it, for this sentence?

# %% tags=["choices"]
choose("03.one-in-three")

# %% tags=["answer"]
answer = ...
check("03.one-in-three", answer)

# %% tags=["solution"]
answer = "plate appearances"
check("03.one-in-three", answer)

# %% tags=["asserted"]
beside = claim.beside.set_index("per")["rate"]
assert abs(beside["plate appearance"] - 1 / 3) < 0.02

# %% [markdown] tags=["exercise"]
# ### Above it (compute, core, 4 min)
#
# Somebody wants to say that Alenka Larkditch's **true** rate of hard balls per swing is above .150. How large is the
# chance? Use the check that fits, and give the chance as a share with two decimals.

# %% tags=["answer"]
answer = ...
check("03.above-it", answer)

# %% tags=["solution"]
answer = hitlab.check_above(counts, "Alenka Larkditch", 0.15).chance
check("03.above-it", answer)

# %% [markdown] tags=["exercise"]
# ### Twenty looks (compute, core, 4 min)
#
# A colleague looks at 20 situations in which nothing is going on. Each look is fooled with a chance of one in ten, and no
# look knows of the others. How large is the chance that **at least one** of the 20 strikes him? As a share, two decimals.

# %% tags=["answer"]
answer = ...
check("03.twenty-looks", answer)

# %% tags=["solution"]
answer = 1 - 0.9**20
check("03.twenty-looks", answer)

# %% [markdown] tags=["exercise"]
# ### He eats cutters (fault, core, 5 min)
#
# From a club's newsletter: *"Basil Haxditch eats cutters. At this pitch he hits it hard on .375 of his swings, 9 of 24.
# By luck that happens less than one time in a hundred."* All these numbers are right. The cell shows how the writer came
# upon Basil. What is wrong?

# %%
pairs = hitlab.tally(hitlab.demo_season(), by=["hitter", "pitch_kind"]).table()
pairs = pairs[pairs["swings"] >= 20]
pairs["rate"] = pairs["hard"] / pairs["swings"]
print(f"{len(pairs)} pairs of a hitter and a pitch with at least 20 swings")
pairs.nlargest(3, "rate")[["hitter", "pitch_kind", "hard", "swings", "rate"]].round(3)

# %% tags=["asserted"]
basil = pairs.nlargest(1, "rate").iloc[0]
assert (basil["hitter"], basil["pitch_kind"]) == ("Basil Haxditch", "cutter")
assert (basil["hard"], basil["swings"], rate_text(basil["rate"])) == (9, 24, ".375")
own = counts.table().set_index("hitter").loc["Basil Haxditch"]
by_luck = rng.binomial(24, own["hard"] / own["swings"], 200_000)
assert 0.0001 < np.mean(by_luck >= 9) < 0.01
assert len(pairs) * np.mean(by_luck >= 9) > 0.5

# %% tags=["choices"]
choose("03.cutters")

# %% tags=["answer"]
answer = ...
check("03.cutters", answer)

# %% tags=["solution"]
answer = (
    "the chance is that of a hitter and a pitch named beforehand; he was "
    "found by a search"
)
check("03.cutters", answer)

# %% [markdown] tags=["exercise"]
# ### Six good years (transfer, core, 4 min)
#
# "This fund beat the market six years in a row. By luck that happens one time in 64!" Suppose that there are 320 funds,
# and that each of them beats the market each year by the toss of a coin. How many of them do you expect with six good
# years in a row?

# %% tags=["answer"]
answer = ...
check("03.six-good-years", answer)

# %% tags=["solution"]
answer = 320 * 0.5**6
check("03.six-good-years", answer)

# %% [markdown] tags=["exercise"]
# ### Safe to say (fault, optional, 3 min)
#
# Her record leads; that she is truly the best is open. Three of these sentences say more than that. Which one may go on
# air?

# %% tags=["choices"]
choose("03.safe-to-say")

# %% tags=["answer"]
answer = ...
check("03.safe-to-say", answer)

# %% tags=["solution"]
answer = (
    "Nadia Izezno leads the list today; whether she is the best, it is too "
    "early to say."
)
check("03.safe-to-say", answer)

# %% [markdown]
# ## Where this breaks
#
# **Bounds that move.** Take the claim that Nadia's true rate is above .160. The chance does not care for our bounds, but
# the verdict does. Whoever chooses them after looking can have the verdict that he likes:

# %%
moved = {}
for holds_at in (0.90, 0.60):
    moved[holds_at] = hitlab.check_above(
        counts, "Nadia Izezno", 0.16, holds_at=holds_at
    )
    print(moved[holds_at].verdict_line)

# %% tags=["asserted"]
assert rate_text(0.16) == ".160"
assert 0.6 < moved[0.60].chance < 0.8
assert moved[0.60].verdict == "holds"
assert moved[0.90].verdict == "open"

# %% [markdown]
# **Hidden choices.** The package checks the claim that you give it. That you tried nine others before, it cannot know.
#
# **What is assumed.** Every checked claim says what has to be true for its chance to be right:

# %%
for line in claim.assumptions:
    print(fill("- " + line, 88))

# %% [markdown]
# If she met weaker pitchers than the others did, or her home park measures generously, the chance is wrong, and more
# swings do not mend it.
#
# **Few data stay few.** What would change the verdict?

# %%
print(fill(claim.would_change, 88))

# %% tags=["asserted"]
assert "more swings" in claim.would_change

# %% [markdown]
# That is many seasons. This claim will not be settled by waiting until Sunday.

# %% tags=["asserted"]
needed = int(claim.would_change.split("about ")[1].split(" ")[0].replace(",", ""))
assert needed > 5 * counts.table()["swings"].max()

# %% [markdown]
# ## Your verdict again
#
# The claim was: Nadia truly hits it hard more often than anybody else with at least 150 swings. Give your verdict again,
# and how sure you are now.

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("03", "after", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "open"
sure = 0.95
confidence("03", "after", verdict, sure)

# %% [markdown]
# Now write one sentence ready for air. It needs who, what, out of what, among whom, and how sure. Then look at the card
# that the package makes of the claim; `card(claim, "nadia.png")` would write it to a file that remembers its data.

# %%
figure = card(claim, size=(1280, 720), dates=game_dates(hitlab.demo_season()))
plots.show(figure.axes[0])

# %% [markdown]
# The picture has a text for those who cannot see it, made from the same numbers:

# %%
print(fill(plots.describe(figure.axes[0])[:300], 88), "...")

# %% tags=["asserted"]
assert "OPEN" in plots.describe(figure.axes[0])[:300]

# %% [markdown]
# And because this league is invented, we may open the envelope. The true rates, and the places among those with at least
# 150 swings:

# %%
envelope = pd.read_csv(folder / "truth.csv")[["hitter_id", "hitter", "hard_per_swing"]]
regular = counts.table().query("swings >= 150")[["hitter_id"]]
envelope = envelope.merge(regular, on="hitter_id")
envelope["true_place"] = envelope["hard_per_swing"].rank(ascending=False).astype(int)
shown = envelope.sort_values("true_place").set_index("hitter")
columns = ["hard_per_swing", "true_place"]
shown.loc[["Alenka Larkditch", "Nadia Izezno"], columns].round(3)

# %% tags=["asserted"]
assert shown["true_place"].iloc[0] == 1
assert shown.index[0] == "Alenka Larkditch"
assert shown.loc["Nadia Izezno", "true_place"] == 20
row = claim.evidence.set_index("hitter").loc["Nadia Izezno"]
assert row["low"] < shown.loc["Nadia Izezno", "hard_per_swing"] < row["high"]
assert shown.loc["Nadia Izezno", "hard_per_swing"] > 0.14

# %% [markdown]
# She is twentieth of 103. The sentence from the beginning would have been false, though every number in it was right. "She
# leads the list" was true, and "truly above .140" was true as well. That is the difference a check makes.

# %% [markdown]
# ## We learned
#
# 1. Look at what was set aside before you count, and never mix numbers that were measured in two ways.
# 2. A record is settled by counting. Who is better has a chance, and bounds that were fixed before looking.
# 3. Ask how many were looked at. Of ten looks at nothing, the best one usually strikes.
#
# **The bigger picture.** A number is not true or false. A sentence is, and you are the one who says it.

# %%
progress("03")
