# %% [markdown]
# # 2. Weigh small samples
#
# What forty swings can say, and what they cannot. You need no baseball for this lesson, and of lesson 1 only its Python, for
# an optional exercise. What a mean, a spread and a range are is explained in lesson 0.

# %%
from textwrap import fill

import hitlab
import numpy as np
import pandas as pd
import seaborn as sns
from hitlab import plots
from hitlab.exercises import check, choose, confidence, hint, progress, review, solution
from hitlab.exercises.sliders import move_it
from hitlab.plots import look
from hitlab.wording import percent, rate_text

# %% [markdown] tags=["review"]
# **Three questions from before.** They have other numbers each time, and what you miss comes again.

# %% tags=["review"]
review("02")

# %% tags=["answer", "review"]
review("02", ..., ..., ...)

# %% tags=["review", "solution"]
from hitlab.exercises import right_of_review

review("02", *right_of_review("02"))

# %% [markdown]
# ## The claim
#
# Four weeks into the season, while the players change sides:
#
# > "Greta Kestelow. Forty swings, thirteen of them hard. Talk about luck all you like: one swing in four, at the very
# > least. That is who she is."
#
# Nobody miscounted. Thirteen of forty is nearly one in three, and the speaker has already come down to one in four.
#
# The league is invented, and so are its people.

# %% [markdown] tags=["slide"]
# # One in four, at the very least?
#
# Four weeks into the season: 13 of Greta Kestelow's 40 swings were hard. How much of that is hers?

# %% tags=["asserted"]
assert (
    percent(hitlab.rate(hitlab.datasets.first_at_bats(), "hits", per="at_bats").level)
    == "90 %"
)
from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT

assert (percent(HOLDS_AT), percent(FAILS_AT)) == ("90 %", "10 %")

# %% [markdown]
# ## What you need
#
# This notebook and, for the exercises in code, the Python of lessons 0 and 1 (cells headed *Python*). Run a cell with Shift+Enter, from top to bottom.
#
# Core: about 95 minutes. Optional: about 20 minutes. In two sittings: about 45 and 50 minutes.
#
# You may move on when the core exercises say *right*. If time is short, leave out "What such a range promises" and the
# exercises marked optional.

# %% [markdown]
# ## Your verdict first
#
# Before you see any data, commit yourself. Greta hit 13 of her first 40 swings hard. Suppose she could swing a million
# times, just as she is. Would she hit **at least one in four** hard? It holds if the chance of that is 90 % or more, does
# not hold if it is 10 % or less, and is open in between.
#
# Say `"holds"`, `"does not hold"` or `"open"`, and how sure you are, from 1/3 (a blind guess among three) to 1
# (certain).

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("02", "before", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "open"
sure = 0.5
confidence("02", "before", verdict, sure)

# %% [markdown]
# ## Three goals
#
# After this lesson you can
#
# 1. say why the top of an early list falls, although nobody changed;
# 2. pull a rate from few swings toward the average of all, by the right amount;
# 3. read a range, and say what its 90 % are 90 % of.

# %% [markdown]
# ## New words
#
# - **rate**: how often something happened, out of how many chances. Here: hard-hit balls per swing.
# - **sample**: the chances that we happened to see. Its size is the number below the line.
# - **true rate**: what the rate would be after a million chances. Nobody ever sees it.
# - **mean**: the average of everybody.
# - **shrink**: pull a rate part of the way toward the mean.

# %% [markdown]
# A *swing* is any try to hit the ball. A swing is *hard* if the ball stays between the lines and leaves the bat at 95
# miles an hour or more. That is all the baseball you need.

# %% tags=["asserted"]
assert hitlab.Conventions().threshold_mph == 95

# %% [markdown]
# ## Look
#
# We take the season of an invented league and cut every hitter's swings in two: the first 40, and all the rest. Then
# we keep those who had at least 150 swings left.

# %%
season = pd.read_parquet(hitlab.demo_season())
swing = hitlab.counting.swing_ledger(season)["swing"]
number = swing.groupby(season["hitter_id"]).cumsum()  # his first swing, second, ...
first = hitlab.tally(season[number <= 40])
rest = hitlab.tally(season[number > 40])

# %%
names = ["hitter_id", "hitter", "hard", "swings"]
keys = ["hitter_id", "hitter"]
both = first.table()[names].merge(rest.table()[names], on=keys, suffixes=("", "_rest"))
both = both[both["swings_rest"] >= 150]
both["early"] = both["hard"] / both["swings"]
both["later"] = both["hard_rest"] / both["swings_rest"]
leaders = both.nlargest(8, "early")
leaders[["hitter", "hard", "swings", "early", "swings_rest", "later"]].round(3)

# %% tags=["asserted"]
assert season["date"].is_monotonic_increasing
assert (both["swings"] == 40).all()
assert (leaders["later"] < leaders["early"]).all()
assert leaders["early"].min() > both["early"].nlargest(9).min()  # no tie at the edge
greta = leaders.iloc[0]
assert (greta["hitter"], greta["hard"]) == ("Greta Kestelow", 13)
assert (season.loc[number == 40, "hitter"] == "Greta Kestelow").any()
days = season.loc[(number <= 40) & (season["hitter_id"] == greta["hitter_id"]), "date"]
assert (days.max() - season["date"].min()).days in range(26, 32)

# %% [markdown]
# These are the eight *leaders* (the best on the list) after 40 swings. Every one of them was worse in the rest of the
# season, most of them by far.
#
# Did they get tired? Did the pitchers find them out? That is what one hears. Before you believe it, look at the other
# end of the list:

# %%
last = both.nsmallest(8, "early")
last[["hitter", "hard", "swings", "early", "swings_rest", "later"]].round(3)

# %% tags=["asserted"]
assert (last["later"] > last["early"]).all()

# %% [markdown]
# Every one of the worst got better. So neither tiredness nor clever pitchers can be the reason: they would not make bad
# hitters good. The two ends moved toward the middle, as if a rubber band held them there. What is the band?

# %% [markdown] tags=["slide"]
# # Both ends move to the middle
#
# - the eight best after 40 swings: every one worse afterwards
# - the eight worst: every one better

# %% [markdown] tags=["exercise"]
# ### Still on top (predict, core, 3 min)
#
# You saw the eight best after 40 swings. How many of them are among the **eight best of the rest** of the season? Give
# a low and a high end, at most 2 apart: `answer = 6, 8`, for instance.

# %% tags=["answer"]
answer = ...
check("02.still-on-top", answer)

# %% tags=["solution"]
stayed = both.nlargest(8, "later")["hitter_id"].isin(leaders["hitter_id"]).sum()
answer = stayed - 1, stayed + 1
check("02.still-on-top", answer)

# %% [markdown]
# ## Simulate
#
# In a real season nobody knows a true rate. So make a league where we do. 400 hitters; each gets a true rate, and keeps
# it. Nobody gets tired, nobody learns. Then each swings 45 times, and chance decides every swing.

# %%
rng = np.random.default_rng(1)
truth = rng.normal(0.14, 0.025, 400)  # true rates around .140
hard = rng.binomial(45, truth)  # 45 swings each
seen = hard / 45
mean = seen.mean()

top = np.argsort(-seen, kind="stable")[:10]
pd.DataFrame({"seen": seen[top], "true": truth[top]}).round(3)

# %% tags=["asserted"]
assert (truth[top] < seen[top]).all()
assert rate_text(0.14) == ".140"

# %% [markdown]
# The same again: all ten leaders are worse than they look. Here we *know* that nobody changed. Who leads a list is good
# **and** was lucky. The luck does not come along to the next swings.
#
# That shows in the whole list, too. Both curves below count the same 400 hitters.

# %%
ax, own = look.axes_for(None, 7.0, 3.6)
said = ["400 invented hitters with 45 swings each; the higher, the more of them"]
for rates, words, color in ((truth, "true rates", 1), (seen, "seen rates", 0)):
    sns.kdeplot(x=rates, ax=ax, color=look.ACCENTS[color], fill=True, clip=(0, 1))
    low, high = map(rate_text, np.quantile(rates, [0.05, 0.95]))
    said.append(f"{words}: nine hitters in ten from {low} to {high}")
ax.set(yticks=[], ylabel="")
ax.annotate("true", (0.172, 9), color=look.ACCENTS[1])
ax.annotate("seen", (0.225, 2.9), color=look.ACCENTS[0])
look.rate_axis(ax.xaxis, "rate of hard-hit balls per swing")
look.finish(ax, own, "The list is wider than the truth", said[0], alt="; ".join(said))
print("\n".join(said[1:]))
plots.show(ax)

# %% tags=["asserted"]
assert seen.std() > 1.8 * truth.std()

# %% [markdown] tags=["slide"]
# # The list is wider than the truth
#
# Who leads is good and was lucky. The luck does not come along to the next swings.
#
# picture: above

# %% [markdown]
# So the leaders' rates should be pulled down, and the worst ones' up. By how much? Try it out. We pull every rate toward
# the mean by a share, from nothing to all the way, and measure how far off we typically are.

# %%


def typical_error(pull):
    guess = seen + pull * (mean - seen)
    return np.sqrt(np.mean((guess - truth) ** 2))


for pull in np.arange(0, 1.01, 0.1):
    error = typical_error(pull)
    print(
        f"pulled {pull:4.0%}   off by {rate_text(error)}   {'#' * round(1000 * error)}"
    )

# %%
pulls = np.arange(0, 1.001, 0.01)
best = pulls[np.argmin([typical_error(pull) for pull in pulls])]
print(f"best by trying: pull {percent(best)} of the way")

# %% tags=["asserted"]
assert typical_error(best) < typical_error(0) / 2
assert typical_error(best) < typical_error(1)
assert 0.7 < best < 0.9
assert all(typical_error(pull) < typical_error(0) for pull in pulls[1:])

# %% [markdown]
# Any pull beats none. The best one is strong: after 45 swings about four fifths of the way. It cuts the error to less
# than half.
#
# Pulling all the way, so that everybody gets the mean, is nearly as good here, but not quite: there *is* something in 45
# swings. It is just less than it looks.

# %% [markdown] tags=["slide"]
# # Any pull beats none
#
# After 45 swings the best pull is about four fifths of the way to the mean. The error falls to less than half.

# %% [markdown]
# ### The formula
#
# Trying works only where the truth is known. For the rest there is a short formula. A hitter's own record gets the
# weight
#
# `own weight = n / (n + m)`
#
# and the mean gets what is left. `n` is the number of swings. `m` is the **half-weight size**: after `m` swings a record
# and the mean weigh the same.

# %% [markdown]
# How large is `m`? The more the hitters truly differ, the smaller:
#
# `m = mean × (1 − mean) / (spread of true rates)² − 1`
#
# (Why? `mean × (1 − mean)` is the variance of a single swing, and over `n` swings luck makes that divided by `n`.
# After about `m` swings luck's variance is as small as that of the true rates, so half of what sets rates apart is
# luck.)

# %% [markdown] tags=["slide"]
# # How much a record weighs
#
# own weight = n / (n + m), and the mean gets the rest.
#
# After m swings both weigh the same.

# %%
m = 0.14 * (1 - 0.14) / 0.025**2 - 1
own_weight = 45 / (45 + m)
print(f"half-weight size m: {m:.0f} swings")
print(
    f"own weight after 45 swings: {percent(own_weight)}, pull {percent(1 - own_weight)}"
)

# %% tags=["asserted"]
assert abs((1 - own_weight) - best) < 0.06

# %% [markdown]
# The formula and the trying agree.
#
# One thing is missing. We used the spread (the standard deviation) of the *true* rates, and in a real league nobody gives us that. But it can be
# learned from the list itself. Luck alone scatters the rates by a known amount; whatever they scatter beyond that is
# true difference. `shrink` does this, and it sees nothing but the counts:

# %%
who = [f"hitter {number}" for number in range(400)]
league = pd.DataFrame({"hitter": who, "hard": hard, "swings": 45})
fit = hitlab.shrink(league, "hard", "swings")
fit_error = np.sqrt(np.mean((fit.table()["shrunk"] - truth) ** 2))
print(f"half-weight size found: {fit.half_weight_size:.0f} swings")
print(f"off by {rate_text(fit_error)}; best by trying {rate_text(typical_error(best))}")

# %% tags=["asserted"]
assert 0.5 < fit.half_weight_size / m < 2
assert fit_error < 1.1 * typical_error(best)

# %% [markdown]
# Without ever seeing a true rate, it comes about as close as we did by trying.

# %% [markdown]
# ### Real hitters
#
# Does it work outside a simulation? Here are 18 real hitters: their hits in the first 45 at-bats (turns at bat; a few
# kinds are left out) of 1970, and in the rest of that year. It is the example with which Bradley Efron and Carl Morris
# made shrinking known (Journal of the American Statistical Association, 1975; Scientific American, 1977). People
# appear by number.

# %%
real = hitlab.datasets.first_at_bats()
real_fit = hitlab.shrink(real, "hits", "at_bats")
plots.show(plots.shrinkage(real_fit))

# %% [markdown] tags=["slide"]
# # Eighteen real hitters, pulled to their mean
#
# Left: hits in 45 at-bats. Right: what to expect of each.
#
# picture: above

# %% [markdown]
# Left: what each hitter showed in 45 at-bats. Right: what we would expect of him. Now open the envelope. Which side was
# closer to the rest of the year? We square how far off each one is, so that large misses count most, and add up.

# %%
real["early"] = real["hits"] / real["at_bats"]
real["shrunk"] = real_fit.table()["shrunk"]
real["later"] = real["rest_hits"] / real["rest_at_bats"]
raw_error = ((real["early"] - real["later"]) ** 2).sum()
shrunk_error = ((real["shrunk"] - real["later"]) ** 2).sum()
print(f"squared errors, summed: as seen {raw_error:.3f}, shrunk {shrunk_error:.3f}")
real.iloc[[0, 1, 8, 16, 17]][["hitter", "early", "shrunk", "later"]].round(3)

# %% tags=["asserted"]
assert raw_error / shrunk_error > 3
assert 0.5 < np.sqrt(shrunk_error / raw_error) < 0.55
assert (real["later"].max() - real["later"].min()) < (
    real["early"].max() - real["early"].min()
)
# Efron & Morris 1977, on the scale of averages (from memory): shrink factor .212
luck = real["early"].mean() * (1 - real["early"].mean()) / 45
scatter = ((real["early"] - real["early"].mean()) ** 2).sum()
factor = 1 - 15 * luck / scatter
assert rate_text(factor) == ".212"

# %% tags=["asserted"]
# Efron & Morris 1975, on their transformed scale (from memory): 17.56 raw, 5.01 shrunk
x = np.sqrt(45) * np.arcsin(2 * real["early"] - 1)
y = np.sqrt(45) * np.arcsin(2 * real["later"] - 1)
shorter = x.mean() + (1 - 15 / ((x - x.mean()) ** 2).sum()) * (x - x.mean())
assert abs(((x - y) ** 2).sum() - 17.56) < 0.02
assert abs(((shorter - y) ** 2).sum() - 5.01) < 0.02

# %% [markdown]
# Shrinking cut the squared errors, added up, to less than a third. (A typical error, their root, fell to little more than
# half.) It made no use of anything but those first 45 at-bats.

# %% [markdown] tags=["slide"]
# # Pulled, squared errors fall to a third
#
# Against the rest of the year, added up, to less than a third. Nothing was used but the first 45 at-bats.

# %% [markdown]
# Efron and Morris kept .212 of each hitter's distance from the mean, by a formula of their own. Ours is a cousin of it.

# %% tags=["asserted"]
assert abs(real_fit.table()["own_weight"].mean() - factor) < 0.1

# %% [markdown]
# ### What such a range promises
#
# One number hides how little we know, so give a range; of a rate it is mostly called an interval. The 90 % interval of
# Greta's 40 swings:

# %%
low, high = hitlab.counting.share_interval(13, 40, level=0.90)
print("rate as seen:", rate_text(13 / 40))
print("90 % interval:", rate_text(low), "to", rate_text(high))

# %% [markdown] tags=["exercise"]
# ### Draw her forty again (write, core, 6 min)
#
# Where does such an interval come from? Make one by hand. Suppose that the rate seen *is* the true rate, and let her
# swing as often as she did, 2,000 times over. The middle 90 % of what comes out is a rough interval.
#
# Complete the function; `rng` is a generator of chance as above. It is tried on records that you have not seen.


# %% tags=["answer"]
def redrawn(hard, swings, rng):
    # 2,000 times: how many hard in so many swings? Then their rates,
    # and the two ends of the middle 90 % of these (np.quantile)
    return ...


check("02.draw-again", redrawn)


# %% tags=["solution"]
def redrawn(hard, swings, rng):
    again = rng.binomial(swings, hard / swings, 2_000)
    rates = again / swings
    return np.quantile(rates, [0.05, 0.95])


check("02.draw-again", redrawn)

# %% [markdown]
# The promise: whatever the true rate is, of many such intervals about 90 % have it inside. We need not believe that. For
# few swings we can go through *every* result that is possible, with its chance.

# %%
inside = {}
for rate in np.arange(0.02, 0.501, 0.01):
    chances = np.array([1.0])  # of 0, 1, 2, ... hard balls
    for swings in range(1, 51):
        chances = np.convolve(chances, [1 - rate, rate])  # one more swing
        low, high = hitlab.counting.share_interval(
            range(swings + 1), swings, level=0.90
        )
        inside[swings, rate] = chances[(low <= rate) & (rate <= high)].sum()

held = pd.Series({key: share for key, share in inside.items() if key[0] >= 20})
print("20 to 50 swings, on average:", percent(held.mean()))
print("at worst:", percent(held.min()))

# %% tags=["asserted"]
assert percent(held.mean()) == "90 %"
assert percent(held.min()) == "83 %"
assert held.groupby(level=0).mean().between(0.895, 0.915).all()

# %% [markdown]
# On average 90 %, as promised; at worst 83 %, because hard balls come in whole numbers.
#
# But read the promise again. It is about *all* intervals. Greta was not picked from a hat: she was picked **because**
# she is on top. For the top of a list the promise is broken:

# %%
low, high = hitlab.counting.share_interval(hard, 45, level=0.90)
has_truth = (low <= truth) & (truth <= high)
print(f"all 400: {percent(has_truth.mean())} have the true rate inside")
print(f"the ten leaders: {has_truth[top].sum()} of 10")

# %% tags=["asserted"]
assert 0.85 < has_truth.mean() < 0.95
assert has_truth[top].sum() == 2
table = fit.table()
shrunk_has = ((table["low"] <= truth) & (truth <= table["high"])).to_numpy()
assert shrunk_has[top].sum() > has_truth[top].sum()

# %% [markdown]
# The intervals of shrunk rates start from the mean as well, and do not break at the top: they have the truth inside more
# often there.

# %% [markdown] tags=["slide"]
# # A promise about all, broken at the top
#
# Nine in ten of all intervals hold the true rate. Of the ten leaders' intervals two do.

# %% [markdown] tags=["sitting"]
# **A good place to stop.** You know why leaders fall, by how much to pull a rate toward the mean, and what an interval
# promises; next come what more swings do, most of the exercises, and where all this breaks.

# %% [markdown]
# ## Move it
#
# How long must we wait until a record speaks for itself? Here are 60 hitters of a league like ours. Give all of them
# more swings, and watch the band let go. (Click the slider, then use the arrow keys.)

# %%
more = np.random.default_rng(2)
some = more.normal(0.14, 0.025, 60)
swung = more.random((2560, 60)) < some  # every swing of theirs, hard or not


def after(swings):
    sheet = pd.DataFrame({"hitter": who[:60], "hard": swung[:swings].sum(axis=0)})
    return hitlab.shrink(sheet.assign(swings=swings), "hard", "swings")


def band(swings):
    return plots.shrinkage(after(swings))


# %% tags=["slider"]
move_it(band, "swings each", [20, 40, 80, 160, 320, 640, 1280, 2560], start=40)

# %% tags=["asserted"]
weights = [after(swings).table()["own_weight"].mean() for swings in (40, 320, 2560)]
assert weights[0] < 0.35 < 0.5 < weights[1] < 0.8 < weights[2]

# %% [markdown]
# At 40 swings all lines run close to the mean. At 2,560 they hardly bend: the record speaks for itself. A regular
# has about 500 swings in a season of this league: in between.

# %% [markdown] tags=["slide"]
# # More swings, and the band lets go
#
# At 40 swings all lines run close to the mean. At 2,560 the record speaks for itself.
#
# picture: above

# %% tags=["asserted"]
regulars = hitlab.tally(season).table()["swings"]
assert 450 < regulars[regulars >= 400].median() < 550

# %% [markdown]
# ## Exercises
#
# Put your answer in place of the dots and run the cell. You may try as often as you like.
#
# Stuck? Type `hint("02.how-large")` (or another name) in the cell, once or twice. After that,
# `solution("02.how-large")` tells all.

# %% [markdown] tags=["exercise"]
# ### How large a sample? (denominator, core, 2 min)
#
# "After three weeks, 18 games, 61 turns at bat, 240 pitches and 105 swings, he hits it hard on one swing in five." How
# much luck is in *that* number? The size of the sample that tells you is the number of what?

# %% tags=["choices"]
choose("02.how-large")

# %% tags=["answer"]
answer = ...
check("02.how-large", answer)

# %% tags=["solution"]
answer = "swings"  # the letters are in another order for everybody
check("02.how-large", answer)

# %% [markdown] tags=["exercise"]
# ### Pull her (compute, core, 4 min)
#
# Greta hit 13 of 40 swings hard. Suppose the mean of her league is .140 and the half-weight size is 200 swings. What rate
# should you expect of her? Three decimals.

# %% tags=["answer"]
answer = ...
check("02.pull-her", answer)

# %% tags=["solution"]
own = 40 / (40 + 200)
answer = own * 13 / 40 + (1 - own) * 0.140
check("02.pull-her", answer)

# %% [markdown] tags=["exercise"]
# ### Thirteen and ten (predict, core, 3 min)
#
# After 40 swings each Greta Kestelow has 13 hard, Ada Mondezno 10. Write their 80 swings on 80 cards, 23 of them hard,
# shuffle, and deal 40 to each. Do that many times. How often are the two **three or more** apart, either way?
# If equals are often as far apart as two hitters were, their difference is *within the noise*.

# %% tags=["asserted"]
ada = both.set_index("hitter").loc["Ada Mondezno"]
assert (ada["hard"], ada["swings"]) == (10, 40)

# %% tags=["choices"]
choose("02.thirteen-and-ten")

# %% tags=["answer"]
answer = ...
check("02.thirteen-and-ten", answer)

# %% tags=["solution"]
cards, shuffler = np.repeat([1, 0], [23, 57]), np.random.default_rng(4)
dealt = np.array([shuffler.permutation(cards)[:40].sum() for _ in range(2_000)])
print("three or more apart:", percent(np.mean(np.abs(dealt - (23 - dealt)) >= 3)))
answer = "in about six deals of ten"
check("02.thirteen-and-ten", answer)

# %% [markdown] tags=["exercise"]
# ### The whole list (complete, core, 5 min)
#
# The same for everybody at once. The table has the columns `hard` and `swings`; the mean is that of all swings of the
# league together, and `m` is the half-weight size. Fill the four gaps.


# %% tags=["answer"]
def pulled(table, m):
    mean = table["hard"].sum() / ...
    seen = ... / table["swings"]
    own = table["swings"] / ...
    return own * seen + ... * mean


check("02.whole-list", pulled)


# %% tags=["solution"]
def pulled(table, m):
    mean = table["hard"].sum() / table["swings"].sum()
    seen = table["hard"] / table["swings"]
    own = table["swings"] / (table["swings"] + m)
    return own * seen + (1 - own) * mean


check("02.whole-list", pulled)

# %% [markdown] tags=["exercise"]
# ### Four fifths (compute, optional, 4 min)
#
# The half-weight size is still 200 swings. After how many swings does a hitter's own record weigh 80 %, and the mean
# only 20 %?

# %% tags=["asserted"]
assert (percent(0.8), percent(1 - 0.8)) == ("80 %", "20 %")

# %% tags=["answer"]
answer = ...
check("02.four-fifths", answer)

# %% tags=["solution"]
tried = np.arange(1, 5_000)
answer = tried[tried / (tried + 200) >= 0.8][0]
check("02.four-fifths", answer)

# %% [markdown] tags=["exercise"]
# ### Geniuses and hopeless cases (fault, core, 4 min)
#
# From a fan magazine, on this season: *"Of the ten best and the ten worst rates in the league, most belong to men and
# women who rarely play. Part-timers are either geniuses or hopeless. Clubs should find out which, and play the
# geniuses."* The table below is the magazine's, and it is right. What is wrong?

# %%
whole = hitlab.tally(season).table()
whole["rate"] = whole["hard"] / whole["swings"]
ends = pd.concat([whole.nlargest(10, "rate"), whole.nsmallest(10, "rate")])
print("fewer than 150 swings:", (ends["swings"] < 150).sum(), "of 20 at the ends,")
print((whole["swings"] < 150).sum(), "of 150 in the league")
ends.iloc[[0, 1, 2, 10, 11, 12]][["hitter", "hard", "swings", "rate"]].round(3)

# %% tags=["asserted"]
assert (ends["swings"] < 150).sum() > 10
assert (ends["swings"] < 150).mean() > 1.5 * (whole["swings"] < 150).mean()

# %% tags=["choices"]
choose("02.geniuses")

# %% tags=["answer"]
answer = ...
check("02.geniuses", answer)

# %% tags=["solution"]
answer = "with few swings luck alone throws rates to both ends of a list"
check("02.geniuses", answer)

# %% [markdown] tags=["exercise"]
# ### Five stars (transfer, optional, 4 min)
#
# A new café has 3 reviews, all with 5 stars. The one next door has 200 reviews and 4.6 stars on average. The cafés of
# the town have 4.0 stars on average, and the half-weight size is 20 reviews.
#
# How many stars should you expect of the **new** café? Two decimals.

# %% tags=["answer"]
answer = ...
check("02.five-stars", answer)

# %% tags=["solution"]
answer = 4.0 + 3 / (3 + 20) * (5 - 4.0)
check("02.five-stars", answer)

# %% [markdown] tags=["exercise"]
# ### One by one (compute, optional, 5 min)
#
# Efron and Morris kept .212 of each real hitter's distance from the mean of the 18. For how many of the 18 is their
# value closer to the rest of the year than the early average? The table `real` has the columns `early` and `later`.

# %% tags=["answer"]
answer = ...
check("02.one-by-one", answer)

# %% tags=["solution"]
middle = real["early"].mean()
theirs = middle + 0.212 * (real["early"] - middle)
answer = ((theirs - real["later"]).abs() < (real["early"] - real["later"]).abs()).sum()
check("02.one-by-one", answer)

# %% [markdown]
# ## Where this breaks
#
# Shrinking says: without his record I would expect of him what I expect of everybody. That is false whenever you know
# something about him.
#
# **Two kinds of hitters.** In some leagues pitchers bat too, and they hit far worse. Pull them toward the mean of all,
# and you flatter them.

# %%
kind = np.repeat(["fielder", "pitcher"], [90, 30])
true = np.where(kind == "pitcher", 0.05, 0.15) + rng.normal(0, 0.015, 120)
sheet = pd.DataFrame({"hitter": who[:120], "kind": kind, "swings": 45})
sheet["hard"] = rng.binomial(45, true)
for name, groups in {"one mean for all": None, "a mean for each kind": "kind"}.items():
    shrunk = hitlab.shrink(sheet, "hard", "swings", groups=groups).table()["shrunk"]
    too_high = round((shrunk - true)[kind == "pitcher"].mean(), 3) + 0.0
    error = np.sqrt(np.mean((shrunk - true) ** 2))
    print(f"{name:21} off by {rate_text(error)}, pitchers by {too_high:+.3f}")

# %% tags=["asserted"]
errors, bias = [], []
for groups in (None, "kind"):
    shrunk = hitlab.shrink(sheet, "hard", "swings", groups=groups).table()["shrunk"]
    errors.append(np.sqrt(np.mean((shrunk - true) ** 2)))
    bias.append((shrunk - true)[kind == "pitcher"].mean())
assert errors[1] < 0.9 * errors[0]
assert bias[0] > 0.015
assert abs(bias[1]) < bias[0] / 2

# %% [markdown]
# **Who plays more is better.** Coaches know something too: they let the better hitters bat. Then few swings are bad news
# in themselves, and the mean of all is too kind to a part-timer. (In the
# table below a *regular* is who was made to play nearly every day, whatever his swings.) Only an invented league can show its true rates:

# %%
known = pd.read_csv(hitlab.demonstration.demo_folder() / "truth.csv")
known.groupby("role")["hard_per_swing"].agg(["size", "mean"]).round(3)

# %% tags=["asserted"]
by_role = known.groupby("role")["hard_per_swing"].mean()
assert by_role["part-timer"] < by_role["regular"]

# %% [markdown]
# `shrink` weighs by itself whether the mean follows the number of swings, and says what it found.
#
# **A hitter who changed.** New swing, healed hand: then the old swings speak of somebody else. No list can know that; a
# coach can.
#
# **The one exception.** Shrinking is best on the whole, not for everybody. Look at the first of the real hitters. He
# had been chosen because he was known to be outstanding, and Efron and Morris themselves warned of his case.

# %%
real.loc[[0], ["hitter", "early", "shrunk", "later"]].round(3)

# %% tags=["asserted"]
assert real.loc[0, "later"] == real["later"].max()
assert real.loc[0, "shrunk"] < real.loc[0, "later"] - 0.03
assert real["later"].nlargest(2).iloc[1] < real.loc[0, "later"] - 0.02

# %% [markdown]
# In the rest of the year he was the best of the 18 by a clear margin. The pull had gone too far for him, because it knew
# nothing of the years before.

# %% [markdown]
# ## Your verdict again
#
# The claim was: with 13 hard in 40 swings, Greta's true rate is at least one in four. Give your verdict again, and how
# sure you are now.

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("02", "after", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "does not hold"
sure = 0.95
confidence("02", "after", verdict, sure)

# %% [markdown] tags=["exercise"]
# ### Ready for air (say, core, 4 min)
#
# One sentence ready for air, in your own words, between the quotation marks. It is held against a list: who, what, out
# of what, against whom, how sure, and no more than was shown. Run the cell with the dots to read the list.

# %% tags=["answer"]
answer = "..."
check("02.for-air", answer)

# %% tags=["solution"]
answer = (
    "Thirteen of Greta Kestelow's first 40 swings were hard, but next to what "
    "all hitters do, one in four is unlikely to last"
)
check("02.for-air", answer)

# %% [markdown]
# Compare it with what the package says, and it knows only the first 40 swings of everybody.

# %%
claim = hitlab.check_above(first, "Greta Kestelow", 0.25)
print(claim.verdict_line)
print(fill(claim.say_in_full, 88))
print()
print(fill("On air: " + claim.say, 88))

# %%
later = both.set_index("hitter").loc["Greta Kestelow"]
true = known.set_index("hitter_id")["hard_per_swing"]
hers = leaders["hitter_id"].iloc[0]
print("rest of her season:", int(later["hard_rest"]), "of", int(later["swings_rest"]))
print("true rate:", rate_text(true[hers]))
print("her place among 150:", int(true.rank(ascending=False)[hers]))

# %% tags=["asserted"]
assert claim.verdict == "does not hold"
assert true[hers] < 0.25
assert true.rank(ascending=False)[hers] <= 10
assert len(true) == 150
assert (int(later["hard_rest"]), int(later["swings_rest"])) == (24, 162)

# %% [markdown]
# She is one of the ten best of the league, and nowhere near one in four. Both are true. Whoever shrinks does not say that
# she is bad, only that forty swings are not enough to say how good.

# %% [markdown]
# ## We learned
#
# 1. Who leads an early list is good and was lucky. The luck stays behind, so leaders fall and nobody has to change.
# 2. Own weight = n / (n + m). The rest of the weight belongs to the mean; `m` comes from how far the list scatters.
# 3. Of many 90 % intervals about 90 % hold the truth; of those picked from the top of a list, far fewer.
#
# **The bigger picture.** A small sample is not worthless. It is a small weight on the scale, and the scale was not
# empty before.

# %% [markdown] tags=["slide"]
# # A small sample is a small weight
#
# It is not worthless. And the scale was not empty before.

# %%
progress("02")

# %% [markdown] tags=["plan"]
# ### Minutes
#
# - 0-8: the review; the claim; everybody's verdict, in writing
# - 8-18: the eight best, the eight worst; how many stay on top?
# - 18-32: the league whose truth is known: leaders, the two curves, pulling by trying; the formula
# - 32-36: the real hitters; open the envelope together
# - 36-48: draw her forty again, in pairs; the promise, and who breaks it; a place to stop
# - 48-52: the slider
# - 52-77: the three votes; pull her, the whole list
# - 77-87: where this breaks
# - 87-95: verdict again, the sentence
#
# ### On the board
#
# 13 of 40, and 24 of the next 162
# leader = good + lucky
# own weight = n / (n + m)
# 40 / (40 + 200): one sixth to her, five sixths to the mean
# 90 % of all intervals, not of those on top
#
# ### Votes
#
# - 02.thirteen-and-ten
# - 02.how-large
# - 02.geniuses
#
# ### What to cut
#
# In 30 minutes: the eight best and the eight worst, the league whose truth is known, the formula without its reason,
# pull her, the verdict. Leave out the real hitters and what an interval promises.
