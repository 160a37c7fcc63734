# %% [markdown]
# # 1. Count every swing
#
# Per swing against per ball in play (a ball hit between the lines): the same hitters, the same hard balls, two lists.
# You need no baseball and no statistics for this lesson.

# %%
from textwrap import fill

import hitlab
import numpy as np
import pandas as pd
from hitlab import plots
from hitlab.exercises import check, choose, confidence, hint, progress, review, solution
from hitlab.exercises.sliders import move_it
from hitlab.wording import percent, rate_text

# %% [markdown] tags=["review"]
# **Three questions from before.** They have other numbers each time, and what you miss comes again. They are about
# lesson 0; who begins here may pass them by.

# %% tags=["review"]
review("01")

# %% tags=["answer", "review"]
review("01", ..., ..., ...)

# %% tags=["review", "solution"]
from hitlab.exercises import right_of_review

review("01", *right_of_review("01"))

# %% [markdown]
# ## The claim
#
# On the air, before the first pitch of an evening game:
#
# > "Hana Falandra. Nobody hits it hard more often than she does."
#
# The speaker has a list in front of him. It is headed *hard-hit balls per ball in play, regulars* (those who play most
# days; here, hitters with at least 150 swings). Her name is on top, and the arithmetic is right.
#
# The league is invented, and so are its people.

# %% [markdown] tags=["slide"]
# # Nobody hits it hard more often?
#
# Hana Falandra is first on a list of hard balls per ball in play. The arithmetic is right. Is the sentence?

# %% [markdown]
# ## What you need
#
# This notebook and, for the exercises in code, the Python of lesson 0 (cells headed *Python*). Run a cell with Shift+Enter, from top to bottom.
#
# Core: about 80 minutes. Optional: about 20 minutes. In two sittings: about 25 and 55 minutes.
#
# You may move on when the core exercises say *right*. If time is short, leave out "Simulate" and the exercises marked
# optional.

# %% [markdown]
# ## Your verdict first
#
# Before you see any data, commit yourself. Hana leads a list of hard-hit balls per ball in play. Does the claim
# hold, if we look at **every swing** of the season so far, among hitters with at least 150 swings?
#
# Say `"holds"`, `"does not hold"` or `"open"`, and how sure you are, from 1/3 (a blind guess among three) to 1
# (certain). There is no shame in a low number. It is scored at the end, and the score likes honesty.

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("01", "before", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "holds"
sure = 0.6
confidence("01", "before", verdict, sure)

# %% [markdown]
# ## Three goals
#
# After this lesson you can
#
# 1. say which pitches count as a swing, and which do not;
# 2. choose what a question asks you to divide by;
# 3. spot a number that sounds like every swing and is not.

# %% [markdown]
# ## New words
#
# - **swing**: the hitter tries to hit the ball and the bat goes all the way. Four things can come of it: a whiff, a
#   foul, a foul tip, a ball in play. A bunt (the bat is held out to let the ball drop) is not a swing.
# - **whiff**: a swing that misses.
# - **foul**: a ball hit outside the lines. Unless caught in the air it puts nobody out. A foul tip only brushes the
#   bat and is caught.
# - **ball in play**: a ball hit between the lines, where the fielders can get it.
# - **denominator**: the number below the line of a fraction. It says *out of what*.

# %% [markdown]
# A **check swing** is one that the hitter tries to stop. *Held* in time it is no swing: the pitch is judged as if the
# bat had stayed still, a *ball* if it was bad, a *called strike* if it was good. *Gone* too far it is a swing like any
# other, and mostly a whiff.

# %% [markdown]
# A **turn at bat** (a *plate appearance* in tables) is all pitches to one hitter, until he is out or on a base. A
# whiff is a strike, too; after three strikes he is out.
#
# We call a ball in play **hard** if it leaves the bat at 95 miles an hour or more. That line is common practice;
# nobody proved it. What follows holds for any other line as well.

# %% tags=["asserted"]
assert hitlab.Conventions().threshold_mph == 95

# %% [markdown] tags=["slide"]
# # What is a swing?
#
# A whiff, a foul, a foul tip, a ball in play. Never a bunt; a check swing only if it went too far.

# %% [markdown]
# ## Look
#
# Start with a hitter whom we make up on the spot. Lucky Lou swings 25 times. He misses 24 times. Once the ball hits
# his bat, and it goes off like a shot.


# %%
def lucky(misses):
    outcomes = ["whiff"] * misses + ["in play"]
    hard = [None] * misses + [True]
    return pd.DataFrame({"hitter": "Lucky Lou", "outcome": outcomes, "hard": hard})


lou = hitlab.tally(lucky(24))
lou.table()[["hitter", "swings", "whiffs", "in_play", "hard"]]

# %%
for per in ["in_play", "swings"]:
    row = hitlab.rate(lou, "hard", per=per).table().iloc[0]
    print(f"hard per {per}: {row['hard']} of {row[per]}, {percent(row['rate'])}")

# %% tags=["asserted"]
for per, said in {"in_play": "100 %", "swings": "4 %"}.items():
    assert percent(hitlab.rate(lou, "hard", per=per).table()["rate"].iloc[0]) == said
assert lou.table()["swings"].iloc[0] == 25

# %% [markdown]
# Per ball in play Lou is perfect: 100 %. Per swing he is at 4 %. Both numbers are right. They answer two questions:
#
# - *Out of the balls that he put in play, how many were hard?* All of them. There was one.
# - *Out of his swings, how many ended with a hard ball?* One of 25.
#
# Nobody in the stands would say that Lou "hits it hard all the time". The first list says just that.

# %% [markdown] tags=["slide"]
# # Perfect, or four per cent?
#
# Lucky Lou swings 25 times and hits one ball, hard.
#
# - per ball in play: 1 of 1
# - per swing: 1 of 25

# %% [markdown]
# Now a whole season: an invented league with 150 hitters. `tally` goes through every pitch once and counts what
# each one became.

# %%
counts = hitlab.tally(hitlab.demo_season())
columns = ["hitter", "pitches", "swings", "whiffs", "fouls", "in_play", "hard"]
counts.table()[columns].head(5)

# %% [markdown]
# What becomes of a swing in this league?

# %%
total = counts.table()[["swings", "whiffs", "fouls", "in_play", "hard"]].sum()
for name in ["whiffs", "fouls", "in_play", "hard"]:
    share = percent(total[name] / total["swings"])
    print(f"{name:8} {total[name]:6,} of {total['swings']:,} swings, {share}")

# %% tags=["asserted"]
assert len(counts.table()) == 150
assert percent(total["in_play"] / total["swings"]) == "38 %"
assert total["whiffs"] + total["fouls"] + total["in_play"] == total["swings"]

# %% [markdown]
# Only 38 % of the swings put a ball in play. A list per ball in play throws the other swings away before it starts
# counting. (Foul tips are among the whiffs here: they play as a miss.)

# %% [markdown] tags=["slide"]
# # Most swings put no ball in play
#
# Of 100 swings 38 put the ball in play. A list per ball in play forgets the other 62 before it counts.

# %% [markdown]
# There are two lists, then: one divides by balls in play, the other by swings.

# %% [markdown] tags=["exercise"]
# ### Both lists (predict, core, 3 min)
#
# Take the ten best per ball in play and the ten best per swing, among hitters with at least 150 swings. How many stand
# in **both** tens? Give a low and a high end, at most 3 apart: `answer = 2, 5`, for instance.

# %% tags=["answer"]
answer = ...
check("01.both-lists", answer)

# %% tags=["solution"]
both = hitlab.counting.denominators(counts, "hard", minimum=150)
table = both.table()
in_both = ((table["rank_in_play"] <= 10) & (table["rank_swings"] <= 10)).sum()
answer = in_both - 1, in_both + 1
check("01.both-lists", answer)

# %% [markdown]
# Here they are. Each line is a hitter; the height is the place on the list.

# %%
both = hitlab.counting.denominators(counts, "hard", minimum=150)
plots.show(plots.two_denominators(both))

# %% [markdown]
# Follow Hana's line. On the left she is first. On the right she is not. The same hard balls stand above the line of
# the fraction; only the number below it changed.
#
# (A rate like .175 says 175 in a thousand. Two of her 207 balls in play were not measured, and both lists suppose
# that these were hard as often as the others. On the left it is enough to leave them out, which makes 205; on the
# right she has .175, where 96 of 553 alone would be .174.)

# %% [markdown] tags=["slide"]
# # Same hard balls, two lists
#
# First per ball in play is only eighth per swing. Only what stands below the line changed.
#
# picture: above

# %% tags=["asserted"]
ranks = both.table().set_index("hitter")
assert ranks.loc["Hana Falandra", "rank_in_play"] == 1
assert ranks.loc["Hana Falandra", "rank_swings"] == 8
assert ranks.loc["Nadia Izezno", "rank_swings"] == 1
hers = counts.table().set_index("hitter").loc["Hana Falandra"]
assert (hers["in_play"], ranks.loc["Hana Falandra", "in_play"]) == (207, 205)
assert (hers["hard"], hers["swings"], hers["unmeasured"]) == (96, 553, 2)
assert rate_text(ranks.loc["Hana Falandra", "per_swings"]) == ".175"
assert rate_text(96 / 553) == ".174"

# %% [markdown]
# Why do the lists disagree? Because the rate per swing is a product:
#
# **hard per swing = (in play per swing) × (hard per ball in play)**
#
# The list per ball in play shows the second factor and forgets the first.

# %%
two = ["Hana Falandra", "Nadia Izezno"]
columns = ["hard", "swings", "per_in_play", "per_swings"]
factors = both.table().set_index("hitter").loc[two, columns]
in_play = counts.table().set_index("hitter").loc[two, "in_play"]  # measured or not
factors.insert(2, "in_play_per_swing", in_play / factors["swings"])
factors.round(3).reset_index()

# %% tags=["asserted"]
hana, nadia = factors.loc["Hana Falandra"], factors.loc["Nadia Izezno"]
for row in (hana, nadia):
    made = row["in_play_per_swing"] * row["per_in_play"]
    assert np.isclose(made, row["per_swings"], atol=0.0002)
assert hana["per_in_play"] > nadia["per_in_play"]
assert hana["in_play_per_swing"] < nadia["in_play_per_swing"]
assert hana["per_swings"] < nadia["per_swings"]

# %% [markdown] tags=["slide"]
# # A rate per swing is a product
#
# (in play per swing) × (hard per ball in play). The list per ball in play shows the second factor and forgets the
# first.
#
# picture: above

# %% [markdown]
# Of Hana's balls in play more are hard, but she puts fewer of her swings in play. Multiplied, Nadia Izezno is ahead.

# %% [markdown]
# ## Simulate
#
# In a real season nobody knows who is truly better. In a simulation we do, because we decide it. Meet two hitters:
#
# - **Swing-and-hope** puts 1 in 4 swings in play; half of those are hard.
# - **Steady** puts 2 in 4 swings in play; 4 in 10 of those are hard.
#
# Per swing that is 0.25 × 0.5 against 0.5 × 0.4. Steady hits a hard ball more often. Which list says so?
# (`rng.binomial(300, 0.25, 2_000)` takes 300 swings of which each comes off with that chance, and counts those that
# did; it does so 2,000 times.)

# %%
rng = np.random.default_rng(1)
ahead = {}
for swings in (300, 1_200):
    hope_in_play = rng.binomial(swings, 0.25, 2_000)  # 2,000 seasons at once
    steady_in_play = rng.binomial(swings, 0.50, 2_000)
    hope, steady = rng.binomial(hope_in_play, 0.5), rng.binomial(steady_in_play, 0.4)
    per_swing = np.mean(steady > hope)  # both have as many swings
    per_ball = np.mean(steady / steady_in_play > hope / hope_in_play)
    ahead[swings] = per_swing, per_ball
    print(f"{swings:,} swings each. Steady is ahead")
    print(f"  per swing in {percent(per_swing)} of the seasons")
    print(f"  per ball in play in {percent(per_ball)}")

# %% tags=["asserted"]
assert 0.25 * 0.5 < 0.5 * 0.4
assert ahead[300][0] > 0.95
assert ahead[300][1] < 0.10
assert ahead[1_200][1] < ahead[300][1] / 2

# %% [markdown] tags=["slide"]
# # More games do not mend it
#
# - per swing, the better hitter is nearly always ahead
# - per ball in play, nearly never; and with more swings, more seldom still

# %% [markdown]
# The list per swing nearly always names the right one. The list per ball in play nearly always names the wrong one.
# And that is no bad luck: with four times as many swings it errs more often still, because it gets better at answering
# a question that nobody asked.

# %% [markdown]
# ## Move it
#
# Back to Lou, beside Ann, who is steady: 25 swings, 10 in play, 4 of them hard. Give Lou more and more misses and
# watch which side of the picture notices. (Click the slider, then use the arrow keys.)

# %%
outcomes = ["whiff"] * 15 + ["in play"] * 10
hard = [None] * 15 + [True] * 4 + [False] * 6
ann = pd.DataFrame({"hitter": "Steady Ann", "outcome": outcomes, "hard": hard})


def lou_and_ann(misses):
    together = hitlab.tally(pd.concat([lucky(misses), ann]))
    return plots.two_denominators(
        hitlab.counting.denominators(together, "hard"), by="rate"
    )


# %% tags=["slider"]
move_it(lou_and_ann, "Lou's misses", range(31), start=24)

# %% tags=["asserted"]
for misses in (0, 1, 24, 30):
    lou = (
        hitlab.counting.denominators(hitlab.tally(lucky(misses)), "hard")
        .table()
        .iloc[0]
    )
    assert lou["per_in_play"] == 1
    assert lou["per_swings"] == 1 / (misses + 1)

# %% [markdown]
# Lou's left end never moves, however often he misses. His right end falls with every miss.

# %% [markdown] tags=["slide"]
# # Misses that a list cannot see
#
# However often Lou misses, per ball in play he stays perfect. Per swing he falls with each miss.
#
# picture: above

# %% [markdown] tags=["sitting"]
# **A good place to stop.** You know what a swing is and why two lists of the same hard balls disagree; next come the
# exercises, and where "per swing" misleads.

# %% [markdown]
# ## Exercises
#
# Put your answer in place of the dots and run the cell. You may try as often as you like.
#
# Stuck? Type `hint("01.both-lists")` (or another name) in the cell, once or twice. After that,
# `solution("01.both-lists")` tells all.

# %% [markdown] tags=["exercise"]
# ### Count the swings (compute, core, 3 min)
#
# Odile Farrowmere's two turns at bat, pitch by pitch:
#
# 1. she holds the bat out for a bunt and misses
# 2. check swing, held: a ball
# 3. foul tip
# 4. foul
# 5. ball in play; and later
# 6. check swing, gone too far: a strike
# 7. check swing, held: a ball
# 8. foul
# 9. ball in play
#
# How many swings?

# %% tags=["answer"]
answer = ...
check("01.count-the-swings", answer)

# %% tags=["solution"]
first_turn = ["foul tip", "foul", "in play"]
second_turn = ["check swing, gone", "foul", "in play"]
answer = len(first_turn) + len(second_turn)
check("01.count-the-swings", answer)

# %% [markdown] tags=["python"]
# **Python: which rows?** Of a table, `few["club"]` is its column of that name. Comparing a column (`==` equal, `<`,
# `<=`, `>`, `>=`) says `True` or `False` for each row, and `.isin([...])` whether it is one of a list. `&` joins two
# such columns: both are true; `~` turns each round. `True` counts as one, so `.sum()` says how many there are, and
# `.mean()` what share of all. In square brackets such a column picks rows: `few[birds]`.

# %% tags=["python"]
few = pd.DataFrame({"club": ["Larks", "Kites", "Larks", "Otters"]})
few["mph"] = [91, 78, 84, 93]
birds = few["club"].isin(["Larks", "Kites"])
fast = few["mph"] >= 90
print("birds:", birds.sum(), " share:", birds.mean(), " not birds:", (~birds).sum())
print("fast and birds:", (fast & birds).sum())
print("fastest of the birds:", few[birds]["mph"].max())

# %% [markdown] tags=["exercise"]
# ### Count any swings (write, core, 5 min)
#
# The same for any table of pitches. It has one row a pitch: `outcome` is one of "whiff", "foul", "foul tip", "in play",
# "ball", "called strike", or something rarer, as "hit by pitch" (a check swing that was gone is a "whiff", a held one a
# "ball" or a "called strike"); `bunt` says True where the bat was held out.


# %% tags=["answer"]
def swings_in(pitches):
    # which rows have one of the outcomes that come of a swing? .isin([...])
    # in which was the bat not held out? ~ turns True and False round
    # how many rows are both? & means and; .sum() counts the True ones
    return ...


check("01.swings-in", swings_in)


# %% tags=["solution"]
def swings_in(pitches):
    tried = pitches["outcome"].isin(["whiff", "foul", "foul tip", "in play"])
    meant = ~pitches["bunt"]
    return (tried & meant).sum()


check("01.swings-in", swings_in)

# %% [markdown] tags=["exercise"]
# ### Which denominator? (denominator, core, 2 min)
#
# Tonight's pitcher makes everybody miss. The coach asks: "Each time she swings at him, what is the chance of a hard
# ball?" Divide her hard balls by her

# %% tags=["choices"]
choose("01.which-denominator")

# %% tags=["answer"]
answer = ...
check("01.which-denominator", answer)

# %% tags=["solution"]
answer = "swings"
check("01.which-denominator", answer)

# %% [markdown] tags=["exercise"]
# ### Hard per swing (compute, optional, 3 min)
#
# Work out Nadia Izezno's hard-hit balls per swing, as a share to three decimals. Her row of the counts:

# %%
row = counts.table().set_index("hitter").loc["Nadia Izezno"]
columns = ["pitches", "swings", "whiffs", "fouls", "contact", "in_play", "hard"]
print(row[[*columns, "plate_appearances"]].to_string())

# %% tags=["answer"]
answer = ...
check("01.hard-per-swing", answer)

# %% tags=["solution"]
answer = row["hard"] / row["swings"]
check("01.hard-per-swing", answer)

# %% [markdown] tags=["exercise"]
# ### Of the time (fault, core, 3 min)
#
# From a scorecard sold at the gate: *"Zoë Quarmoor hits it hard 46 % of the time, second-best of all regulars."* What is wrong?

# %%
zoe = both.table().set_index("hitter").loc["Zoë Quarmoor"]
columns = ["hard", "swings", "in_play", "per_swings", "per_in_play"]
shown = zoe[[*columns, "rank_swings", "rank_in_play"]]
print(shown.astype(float).round(3).map("{:g}".format).to_string())

# %% tags=["asserted"]
assert percent(zoe["per_in_play"]) == "46 %"
assert zoe["rank_in_play"] == 2
assert zoe["swings"] > 300

# %% tags=["choices"]
choose("01.of-the-time")

# %% tags=["answer"]
answer = ...
check("01.of-the-time", answer)

# %% tags=["solution"]
answer = "'of the time' sounds like every swing, but whiffs and fouls are left out"
check("01.of-the-time", answer)

# %% [markdown] tags=["exercise"]
# ### Second and third (fault, core, 2 min)
#
# From the same scorecard: *"Per swing Roksana Tovemarr is second with .186, and Greta Kestelow has to be content with
# third, .185."* Roksana has 46 hard of 250 swings, Greta 37 of 202. Each number is right. (One ball of each was not
# measured, so the rates stand a little above 46 / 250 and 37 / 202.) What does the difference of the two tell?

# %% tags=["asserted"]
second, third = (
    both.table()
    .set_index("hitter")
    .loc[["Roksana Tovemarr", "Greta Kestelow"]]
    .to_dict("records")
)
assert (second["rank_swings"], third["rank_swings"]) == (2, 3)
assert (rate_text(second["per_swings"]), rate_text(third["per_swings"])) == (
    ".186",
    ".185",
)
assert (second["hard"], second["swings"]) == (46, 250)
assert (third["hard"], third["swings"]) == (37, 202)
assert second["per_swings"] < 38 / 202

# %% tags=["asserted"]
with_unmeasured = hitlab.rate(counts, "hard", "swings").table().set_index("hitter")
for name in ("Roksana Tovemarr", "Greta Kestelow"):
    assert with_unmeasured.loc[name, "unknown"] == 1
assert second["per_swings"] > 46 / 250
assert third["per_swings"] > 37 / 202

# %% tags=["choices"]
choose("01.second-and-third")

# %% tags=["answer"]
answer = ...
check("01.second-and-third", answer)

# %% tags=["solution"]
answer = "hardly anything: one more hard ball of Greta's, and they change places"
check("01.second-and-third", answer)

# %% [markdown] tags=["exercise"]
# ### Who falls? (complete, core, 5 min)
#
# How many places does each hitter lose, from the list per ball in play to the list per swing? The table has the columns
# `hard`, `in_play` and `swings`. Fill the three gaps. (`rank` numbers a column from its smallest value;
# `ascending=False` from its largest.)


# %% tags=["answer"]
def places_lost(table):
    per_ball = table["hard"] / ...
    per_swing = table["hard"] / ...
    before = per_ball.rank(ascending=False)
    after = per_swing.rank(ascending=...)
    return after - before


check("01.who-falls", places_lost)


# %% tags=["solution"]
def places_lost(table):
    per_ball = table["hard"] / table["in_play"]
    per_swing = table["hard"] / table["swings"]
    before = per_ball.rank(ascending=False)
    after = per_swing.rank(ascending=False)
    return after - before


check("01.who-falls", places_lost)

# %% [markdown] tags=["exercise"]
# ### Job letters (transfer, optional, 4 min)
#
# Ida sent 80 job letters, was asked to 4 interviews, and got 3 offers. Ben sent 20 letters, had 10 interviews, and
# got 4 offers. Ida says: "Three out of four! I am the better applicant."
#
# What is Ida's share of offers **per letter**?

# %% tags=["answer"]
answer = ...
check("01.job-letters", answer)

# %% tags=["solution"]
answer = 3 / 80
check("01.job-letters", answer)

# %% [markdown] tags=["exercise"]
# ### Swap the factors (compute, optional, 5 min)
#
# Suppose Hana kept her hard balls per ball in play, but put as many of her swings in play as Nadia does. What would her
# rate per swing be? The table of the two factors stands in "Look".

# %% tags=["answer"]
answer = ...
check("01.swap-the-factors", answer)

# %% tags=["solution"]
nadia_in_play = factors.loc["Nadia Izezno", "in_play_per_swing"]
hana_hard = factors.loc["Hana Falandra", "per_in_play"]
answer = nadia_in_play * hana_hard
check("01.swap-the-factors", answer)

# %% [markdown]
# ## Where this breaks
#
# "Per swing" is not the truth either. It is one denominator, and it misleads in its own ways.
#
# **Two strikes.** With two strikes one more miss ends the turn at bat, and a foul does not. So hitters shorten the
# swing and see that they touch the ball: better a weak foul than a miss. Such a swing is *meant* to be less hard.

# %%
season = counts.table().sum(numeric_only=True)
late_hard = int(season["two_strike_hard"])
late_swings = int(season["two_strike_swings"])
early_hard = int(season["hard"]) - late_hard
early_swings = int(season["swings"]) - late_swings
for words, hard_balls, swings in (
    ("fewer than two strikes", early_hard, early_swings),
    ("two strikes", late_hard, late_swings),
):
    told = f"{hard_balls:,} of {swings:,}, {rate_text(hard_balls / swings)}"
    print(f"hard per swing, {words:22} {told}")

# %% tags=["asserted"]
assert early_hard / early_swings > late_hard / late_swings + 0.02

# %% [markdown]
# So a hitter who often gets to two strikes looks worse per swing than he is.
#
# **Easy pitches only.** Somebody who swings at nothing but slow balls down the middle has a fine rate per swing, and
# goes back to the bench while good pitches go by. Per *pitch* that shows:

# %%
columns = ["swings", "pitches", "per_swings", "rank_swings"]
choosy = both.table().set_index("hitter")[[*columns, "per_pitches", "rank_pitches"]]
choosy.loc[["Alenka Larkditch", "Nadia Izezno"]].round(3).reset_index()

# %% tags=["asserted"]
alenka = choosy.loc["Alenka Larkditch"]
assert (alenka["rank_swings"], alenka["rank_pitches"]) == (4, 12)
swings_at = choosy["swings"] / choosy["pitches"]
assert swings_at["Alenka Larkditch"] < swings_at.median()

# %% [markdown]
# Alenka Larkditch is fourth per swing and twelfth per pitch: she lets more go by than most. That may be wise or timid;
# the rate does not say.
#
# **A question of its own.** "She swings at every first pitch." Neither list can answer that: the swings to count, and
# what they are out of, are those at no balls and no strikes, the first pitch of each turn. Name a count and the
# situation it is taken in, and it is counted like any other:

# %%
own = {
    "first_swings": "swings at balls=0 strikes=0",
    "first_pitches": "pitches at balls=0 strikes=0",
}
first = hitlab.tally(hitlab.demo_season(), events=own)
eager = hitlab.rate(first, "first_swings", "first_pitches").table()
eager = eager[eager["first_pitches"] >= 200].sort_values("rate", ascending=False)
eager[["hitter", *own, "rate"]].head(3).round(3)

# %% tags=["asserted"]
assert eager["hitter"].iloc[0] == "Nadia Izezno"
assert rate_text(eager["rate"].iloc[0]) == ".513"
turns = counts.table().set_index("hitter").loc["Nadia Izezno", "plate_appearances"]
assert (turns, eager["first_pitches"].iloc[0]) == (313, 312)
walked = pd.read_parquet(hitlab.demo_season())
walked = walked[(walked["hitter"] == "Nadia Izezno") & (walked["balls"] == 0)]
assert (walked["outcome"] == "intentional ball").sum() == 1
assert (
    (eager["rate"].iloc[0] - 0.5)
    < 0.02
    < eager["rate"].iloc[1] - eager["rate"].median()
)

# %% [markdown]
# Nobody swings at first pitches more often than Nadia, and that is one in two. "Every" is a word to count before it is
# said. (312 first pitches in her 313 turns at bat: once she was sent to first base on purpose, and no pitch was
# thrown.)
#
# **Luck.** By the record Nadia leads. Whether she is truly the best is another question, with another answer. That is
# lessons 2 and 3.

# %% [markdown] tags=["slide"]
# # Per swing is not the truth either
#
# - with two strikes a swing is meant to be safe, not hard
# - who swings at easy pitches only looks fine per swing

# %% [markdown]
# ## Your verdict again
#
# The claim was: "Nobody hits it hard more often than she does", counted over every swing. Give your verdict again, and
# how sure you are now.

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("01", "after", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "does not hold"
sure = 0.95
confidence("01", "after", verdict, sure)

# %% [markdown] tags=["exercise"]
# ### Ready for air (say, core, 4 min)
#
# The speaker puts it right: one sentence ready for air, in your own words, between the quotation marks. It is held
# against a list: who, what, out of what, among whom, where she stands, and no more than was shown. Run the cell with the
# dots to read the list. Words that it does not know are no mistake: you compare yours with ours, and run the cell once more.

# %% tags=["answer"]
answer = "..."
check("01.for-air", answer)

# %% tags=["solution"]
answer = (
    "Counting every swing, Hana Falandra does not lead in hard-hit balls: among the "
    "103 hitters with 150 swings Nadia Izezno, for one, is ahead of her"
)
check("01.for-air", answer)

# %% [markdown]
# Compare it with what the package says. (Its place may differ by one from our list: here the two balls of hers that were
# not measured count as hard, in her favour.)

# %%
claim = hitlab.check_leads(counts, "Hana Falandra", about="record", minimum=150)
print(claim.verdict_line)
print(fill(claim.say_in_full, 88))
print()
print(fill("On air: " + claim.say, 88))

# %% tags=["asserted"]
assert claim.verdict == "does not hold"
unmeasured = counts.table().set_index("hitter")["unmeasured"]
assert unmeasured["Hana Falandra"] == 2
assert len(both.table()) == 103
assert (counts.table()["swings"] >= 150).sum() == 103

# %% [markdown]
# ## We learned
#
# 1. A swing is a whiff, a foul, a foul tip or a ball in play. Bunts and held check swings are none; a check swing that
#    went too far is one.
# 2. What follows "each time" in the question goes below the line. Per ball in play, one lucky hit reads 100 %.
# 3. "Of the time" hides a denominator. Ask: out of what?
#
# **The bigger picture.** Every rate is a fraction, and every argument about a rate is first an argument about its lower
# half.

# %% [markdown] tags=["slide"]
# # Out of what?
#
# Every argument about a rate is first an argument about what stands below its line.

# %%
progress("01")

# %% [markdown] tags=["plan"]
# ### Minutes
#
# - 0-6: the claim; everybody's verdict, in writing
# - 6-16: what a swing is; Lucky Lou; count the swings of two turns at bat
# - 16-26: the season; the prediction, then the picture of two lists
# - 26-34: a rate per swing is a product
# - 34-42: a league where we know who is better, and Lou's slider
# - 42-54: count any swings, in pairs
# - 54-66: the three votes
# - 66-80: where this breaks; verdict again, the sentence
#
# ### On the board
#
# swing: whiff, foul, foul tip, in play; no bunt; a check swing only if it is gone
# Lou: 1 of 1, 1 of 25
# hard per swing = in play per swing × hard per ball in play
# Hana: 1st and 8th, the same 96 hard balls
# out of what?
#
# ### Votes
#
# - 01.which-denominator
# - 01.of-the-time
# - 01.second-and-third
#
# ### What to cut
#
# In 30 minutes leave out "Simulate", the function and "Where this breaks". Lou, the picture of two lists and the votes
# must stay.
