# %% [markdown]
# # 12. Choose the hitter
#
# The right hitter for the last inning (each side's turn to hit): what the moment asks for, and how little tells
# hitters apart. You need no baseball and no statistics.

# %%
from textwrap import fill

import hitlab
import numpy as np
import pandas as pd
from hitlab import plots
from hitlab.exercises import check, choose, confidence, hint, progress, review, solution
from hitlab.exercises.sliders import move_it
from hitlab.game import BASES, OUTCOMES, Advancing, Spot, wins_text
from hitlab.game.spots import best_for_spots
from hitlab.plots import look
from hitlab.wording import percent, rate_text

# %% [markdown] tags=["review"]
# **Three questions from before.** They have other numbers each time, and what you miss comes again.

# %% tags=["review"]
review("12")

# %% tags=["answer", "review"]
review("12", ..., ..., ...)

# %% tags=["review", "solution"]
from hitlab.exercises import right_of_review

review("12", *right_of_review("12"))

# %% [markdown]
# ## The claim
#
# Last inning, the score is tied, there is a runner on every base, one out. The side at bat has the last
# turn of the game, so the next to score wins. From the booth:
#
# > "Bring Nadia Izezno! Nobody in this league hits more home runs, and a home run ends it."
#
# The list of home runs is right: she leads it.
#
# Made checkable: *of all regular hitters, nobody gives a higher chance to win in this spot* (score, outs and runners
# when a hitter comes up). The league and its people are invented.

# %% [markdown] tags=["slide"]
# # The list is right. Is the claim?
#
# Nadia leads the league in home runs. Is she the best hitter now: tied, a runner on every base, one out?

# %% [markdown]
# ## What you need
#
# This notebook and, for the exercises in code, the Python of lessons 0, 1, 6 and 7 (cells headed *Python*). It helps to have done lessons 1 and 2.
#
# Core: about 95 minutes. Optional: about 15 minutes. In two sittings: about 50 and 45 minutes.
#
# You may move on when the core exercises say *right*. If time is short, leave out the exercises marked optional.

# %% [markdown]
# ## Your verdict first
#
# Tied, a runner on every base, one out. Is Nadia truly the best choice among the regular hitters of the league? Say
# `"holds"`, `"does not hold"` or `"open"`, and how sure you are, from 1/3 (a blind guess among three) to 1 (certain).

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("12", "before", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "holds"
sure = 0.5
confidence("12", "before", verdict, sure)

# %% [markdown]
# ## Three goals
#
# After this lesson you can
#
# 1. say what each outcome is worth in a spot, and work out a chance to win from it;
# 2. say when a spot asks for the long ball and when for contact;
# 3. say how small the differences are, next to what is not known of the hitters.

# %% [markdown]
# ## New words
#
# - **inning**: each side's turn to hit. It ends with the third out. The home side hits last; once it leads in the last
#   inning, the game is over.
# - **bases**: three stations on the way round; the fourth is home, and who gets there has scored a **run**. A *home run* takes
#   everybody home.
# - **walk**: four bad pitches let go. The hitter gets first base, and whoever stands there has to move on.
# - **spot**: score, outs and bases when a hitter comes up.
# - **plate appearance**: one turn of a hitter ("PA" in pictures).

# %% [markdown]
# ## Look
#
# Outs (none, one or two) and bases (eight ways to fill three) make 24 states. From each of them, how many runs are still to
# come until the third out, on average?

# %% [markdown] tags=["exercise"]
# ### Bases full (predict, core, 3 min)
#
# A runner on every base, nobody out. How many runs does an average side still score in this inning? Give a low and a high
# end, at most 1 apart: `answer = 0.2, 1.2`, for instance.

# %% tags=["answer"]
answer = ...
check("12.bases-full", answer)

# %% tags=["solution"]
answer = 2.0, 2.8
check("12.bases-full", answer)

# %% [markdown]
# We need the league's habits first: how its plate appearances end. Nine ways are enough.

# %%
rates = hitlab.game.shrink_outcomes(hitlab.game.outcome_counts(hitlab.demo_season()))
league = pd.Series(rates.league, OUTCOMES, name="share")
league.round(3).to_frame().T

# %% [markdown]
# (`shrink_outcomes` also pulls each hitter's own record toward the league, as in lesson 2: a short record weighs little.)
#
# A single, a double and a triple take the hitter to first, second and third base. A *hit by pitch* counts as a walk does, an
# *error* is a fielder's slip. A *strikeout* is three strikes, and the ball goes nowhere.

# %% [markdown]
# An *other out* is a ball that is caught, or thrown to a base in time. Two kinds of it matter here. On a **sacrifice fly** the
# ball is caught far out, and the runner on third runs home meanwhile. On a **double play** two are put out at once. Where they
# can happen, we let 25 and 22 of 100 other outs be such ones. On 34 more the runners move up a base while one man is put out;
# on the other 19 they stay (common practice, no source).

# %% tags=["asserted"]
usual = Advancing()
assert (usual.sacrifice_fly, usual.double_play) == (0.25, 0.22)
assert np.isclose(usual.force_out + usual.moves_up, 0.34)

# %% [markdown]
# Now let such average hitters come up one after the other until three are out. No dice are needed; the averages can be solved
# for.

# %%
half = hitlab.game.half_inning(league)
states = half.table()
states = states.pivot(index="bases", columns="outs", values="expected_runs")
states.loc[list(BASES)].round(2)

# %% tags=["asserted"]
assert 0.45 < states.loc["empty", 0] < 0.55
assert 2.2 < states.loc["full", 0] < 2.6
assert 0.08 < 1 - half.chance_of_run[0, -1] < 0.12
assert (states[0] > states[1]).all()
assert (states[1] > states[2]).all()

# %% [markdown]
# An inning is worth half a run when it begins. Bases full and nobody out is the best there is. Each out takes a good part away.
#
# But late in a tied game nobody needs an *average*. One run is enough. What matters is the chance to win. What is each ending
# of this plate appearance worth in our spot: tied, bases full, one out?

# %% [markdown] tags=["slide"]
# # An average is not what you need
#
# - 24 states of outs and bases, each worth some runs on average
# - late in a tied game one run is enough
# - so ask for the chance to win

# %%
spot = Spot(0, 1, "full")
ranked = hitlab.game.best_for_spot(rates, spot)
worth = ranked.outcomes().set_index("outcome")
worth.round(3).T

# %% tags=["asserted"]
assert (worth["win_chance"].iloc[2:] == 1).all()
assert rate_text(worth.loc["strikeout", "win_chance"]) == ".666"
assert rate_text(worth.loc["other out", "win_chance"]) == ".826"
stay = 1 - 0.34 - usual.sacrifice_fly - usual.double_play
shares = [rate_text(one)[:3] for one in (0.34 + usual.sacrifice_fly, 0.22, stay)]
assert shares == [".59", ".22", ".19"]
by_hand = 0.59 + 0.22 * 0.5 + 0.19 * worth.loc["strikeout", "win_chance"]
assert np.isclose(worth.loc["other out", "win_chance"], by_hand)

# %% [markdown]
# Seven of nine endings win at once: even a walk pushes a runner home. A home run is worth no more than that here.
#
# The two outs differ. After a strikeout the chance is down to .666: bases full, two out. (If nobody scores, the game goes on;
# we say for now that such games are won half of the time.) After another out it is .826, on average. Of 100 of them 25 + 34
# bring the runner on third home and win; 22 double plays end the inning, and half of these games are won; 19 leave what a
# strikeout leaves. So it is .59 + .22 × .5 + .19 × .666.

# %% [markdown] tags=["slide"]
# # With bases full a walk wins
#
# Seven of nine endings win at once. Here a home run is worth no more than a walk, and the two outs differ.

# %% [markdown]
# So take two hitters whom we make up. **Sally Slugger** hits 8 home runs in 100 plate appearances and strikes out 30 times.
# **Clara Contact** hits one, and strikes out 10 times.

# %%
sally = [0.30, 0.35, 0.10, 0.01, 0.10, 0.045, 0.005, 0.08, 0.01]
clara = [0.10, 0.52, 0.09, 0.01, 0.20, 0.05, 0.01, 0.01, 0.01]
worth["Sally"], worth["Clara"] = sally, clara
worth.round(3)

# %% tags=["asserted"]
assert np.isclose(sum(sally), 1)
assert np.isclose(sum(clara), 1)

# %% [markdown] tags=["exercise"]
# ### Clara by hand (compute, core, 5 min)
#
# With Clara at bat, what is the chance to win? Each ending, times how often she has it, added up. Give a share to three
# decimals.

# %% tags=["answer"]
answer = ...
check("12.clara-by-hand", answer)

# %% tags=["solution"]
answer = (worth["Clara"] * worth["win_chance"]).sum()
check("12.clara-by-hand", answer)

# %% [markdown]
# And Sally? How much larger is Sally's chance than Clara's, in points of a hundred? One is out; a row for the runners
# on base, a column for how many runs they are behind (0: tied). Above 0 Sally is the better choice.

# %% [markdown] tags=["slide"]
# # A chance to win is a sum
#
# Each ending's share, times what it is worth in the spot, added up. That is the whole method.

# %%
table = {}
for behind in range(4):
    for bases in ("empty", "third", "first second", "second third", "full"):
        values = hitlab.game.outcome_values(Spot(-behind, 1, bases), league)
        points = 100 * (np.dot(sally, values) - np.dot(clara, values))
        table.setdefault(f"behind by {behind}", {})[bases] = points
pd.DataFrame(table).round(1)

# %% tags=["asserted"]
points = pd.DataFrame(table)
assert (points.loc["full"] > 0).tolist() == [False, False, True, True]
assert (points.loc["empty"] > 0).tolist() == [True, True, False, False]
assert (points.loc["third"] > 0).tolist() == [False, False, True, False]
assert -4.5 < points.loc["full", "behind by 1"] < -3.5
assert 3 < points.loc["full", "behind by 3"] < 4

# %% [markdown]
# Neither is "the better hitter". Bases full: tied or one behind, Clara by some four points; three behind, Sally by nearly as
# much. Nobody on base: Sally, if one run helps; and if you are two or more behind, it hardly matters, because any way to get on
# base is what you need.
#
# Find the runs that you need, and ask who gets them at once.

# %% [markdown] tags=["slide"]
# # Neither is the better hitter
#
# - tied, bases full: contact
# - three behind, bases full: the long ball
# - two behind, nobody on: it hardly matters

# %% tags=["asserted"]
assert points.loc["empty", ["behind by 2", "behind by 3"]].abs().max() < 0.5

# %% [markdown]
# Now the real question: the league's hitters, with what is known and not known of them, in the spot of the claim. Compared are
# the **regular hitters**: here all who came up at least a quarter as often as the one who came up most, that is 84 times. They
# are 103, by chance as many as have the 150 swings of other lessons; 102 are on both lists.

# %%
listed = ranked.table().set_index("label")
plots.show(plots.draw(ranked))

# %% tags=["asserted"]
nadia = ranked.table()["label"].tolist().index("Nadia Izezno") + 1
homers = rates.counts.data.set_index("hitter")["home_runs"]
assert homers.idxmax() == "Nadia Izezno"
assert nadia == 20
assert len(listed) == 103
assert ranked.minimum == 84

# %% tags=["asserted"]
counted = hitlab.tally(hitlab.demo_season()).table()
swung = counted.loc[counted["swings"] >= 150, "hitter_id"]
assert (len(swung), swung.isin(listed["hitter_id"]).sum()) == (103, 102)
assert listed.loc["Nadia Izezno", "plate_appearances"] == 312
turns = counted.set_index("hitter").loc["Nadia Izezno", "plate_appearances"]
assert turns == 313
assert listed.index[0] == "Alenka Jarobarev"
assert listed["low"].iloc[0] < listed["win_chance"].iloc[9]
walks = rates.counts.data.set_index("hitter")["walks"]
assert walks["Nadia Izezno"] == 8

# %% [markdown]
# Nadia is twentieth of 103, and not among these ten. She hits home runs, but she has been walked only 8 times, and in this
# spot a walk would do. (Of her 313 plate appearances one is not counted here: she was sent to first on purpose, which is
# not her doing.)
#
# Look at the size of things, too. The bar beneath shows the whole scale: all ten stand on one narrow stripe. And the lines
# (what is not known) are longer than the distances between the dots.

# %% [markdown] tags=["slide"]
# # Ten hitters on one narrow stripe
#
# Dots: what is expected of them. Lines: what is not known. The lines are longer than the gaps.
#
# picture: above

# %% [markdown]
# ## Simulate
#
# How often does a season's record name the wrong hitter? We make two up, so that we know the truth: **A** is better in this spot
# than **B** by half a point in a hundred, as the first of our list is than the tenth. Each gets a season of 330 plate
# appearances, and we read off the record who is better.

# %%
rng = np.random.default_rng(12)
value = worth["win_chance"].to_numpy()
a = np.array([0.20, 0.44, 0.10, 0.01, 0.15, 0.045, 0.005, 0.04, 0.01])
b = np.array([0.22, 0.43, 0.10, 0.01, 0.14, 0.045, 0.005, 0.04, 0.01])
print(f"the truth:  A {wins_text(a @ value)}, B {wins_text(b @ value)}")
seasons = 5_000
record_a = rng.multinomial(330, a, seasons) @ value / 330
record_b = rng.multinomial(330, b, seasons) @ value / 330
wrong = np.mean(record_b > record_a)
print(f"the record names B in {percent(wrong)} of the seasons")

# %%
gap = 100 * (record_a - record_b)
ax, own = look.axes_for(None, 7.0, 3.2)
kinds, colors = [gap[gap < 0], gap[gap >= 0]], [look.ACCENTS[0], look.BANDS[1]]
ax.hist(kinds, np.arange(-3, 4.01, 0.25), stacked=True, color=colors, ec="white")
ax.axvline(100 * (a - b) @ value, color=look.INK, linewidth=1.5)
ax.set_xlabel("A's record above B's, in points of a hundred", color=look.QUIET)
ax.set_yticks([])
title = f"In {percent(wrong)} of the seasons the worse one looks better"
said = "5,000 seasons. Dark: B's record is the higher. Line: the truth, half a point"
plots.show(look.finish(ax, own, title, said, alt=f"{title}. {said}"))

# %% tags=["asserted"]
assert percent(wrong) == "29 %"
assert gap.std() > 1.5 * 100 * (a - b) @ value
assert np.mean((gap > -2) & (gap < 3)) > 0.99
assert np.isclose(a.sum(), 1)
assert np.isclose(b.sum(), 1)
assert 0.0045 < a @ value - b @ value < 0.0055
assert 0.25 < wrong < 0.40
assert 0.004 < listed["win_chance"].iloc[0] - listed["win_chance"].iloc[9] < 0.006

# %% [markdown]
# The truth is the line, half a point to the right of 0. The records lie anywhere from two points the wrong way to three the
# right way. So the difference between these two is well within the noise of a season, and the record names the wrong one in
# 29 % of the seasons.

# %% [markdown] tags=["slide"]
# # A season often names the wrong one
#
# A is truly better by half a point. In nearly three seasons of ten B's record is the higher.
#
# picture: above

# %% [markdown] tags=["python"]
# **Python: counts times worth.** `rng.multinomial(10, shares, (2, 3))` lets 10 turns end at random, as `shares` say, for
# two leagues of three hitters: so many of each ending. `counts @ worth` is each count times what that ending is worth,
# added up: one number a hitter. (`shares @ worth` is what a turn is worth on average.)

# %% tags=["python"]
odds, scores = np.array([0.6, 0.3, 0.1]), np.array([0, 1, 4])
counts = np.random.default_rng(9).multinomial(10, odds, (2, 3))
print(counts[0], "points:", counts[0] @ scores, " on average:", 10 * (odds @ scores))
print("highest of each league:", (counts @ scores).max(axis=1))

# %% [markdown] tags=["exercise"]
# ### A hundred equals (write, core, 6 min)
#
# And that is with two. Now make a whole league in which *nobody* is better than anybody: every plate appearance of every hitter
# ends as `shares` say. How far above the truth does the leader's record stand?
#
# Draw a season for all of them, 200 times over, and return how far the leaders stand above the truth on average. `worth` is
# what the nine endings are worth, `turns` how many plate appearances each has.


# %% tags=["answer"]
def lead_of_equals(shares, worth, hitters, turns, rng):
    # 200 leagues: nine counts for every hitter (rng.multinomial),
    # each hitter's record, the highest of each league, their mean,
    # and how far it is above the truth
    return ...


check("12.lead-of-equals", lead_of_equals)


# %% tags=["solution"]
def lead_of_equals(shares, worth, hitters, turns, rng):
    endings = rng.multinomial(turns, shares, (200, hitters))
    records = endings @ worth / turns
    return records.max(axis=1).mean() - shares @ worth


check("12.lead-of-equals", lead_of_equals)

# %% [markdown]
# In our league, bare records: how far is the first above the middle, and how far would the first of as many equals be?

# %%
bare = ranked.table()["observed"]
turns = round(ranked.table()["plate_appearances"].mean())
equals = rng.multinomial(turns, league, (200, len(bare))) @ value / turns
print(f"{len(bare)} hitters with {turns} plate appearances on average")
print(f"first above the middle: {100 * (bare.max() - bare.median()):.1f} points")
print(
    f"with nothing but luck:  {100 * (equals.max(axis=1).mean() - league @ value):.1f}"
)

# %% tags=["asserted"]
by_luck = 100 * (equals.max(axis=1).mean() - league @ value)
assert 0.6 < by_luck / (100 * (bare.max() - bare.median())) < 0.9
assert turns == 254
assert percent(ranked.luck_share) == "57 %"

# %% [markdown]
# Three quarters of the leader's lead would be there without any difference between hitters. (Of all differences on the list
# luck is 57 %, as the picture of the ten says; luck lifted the leader more than most.) The top of such a list belongs to
# somebody who is good *and* lucky.

# %% [markdown] tags=["slide"]
# # Somebody leads, even among equals
#
# A hundred hitters who are all the same, one season: the first of the list stands three quarters as far ahead as ours.

# %% [markdown]
# Could we instead count the games? Suppose each of them gets 20 such spots in a season, which is far more than anybody does.

# %%
won_a = rng.binomial(20, a @ value, seasons)
won_b = rng.binomial(20, b @ value, seasons)
print(f"more wins with A: {percent(np.mean(won_a > won_b))}")
print(f"more wins with B: {percent(np.mean(won_b > won_a))}")
print(f"as many:          {percent(np.mean(won_a == won_b))}")

# %% tags=["asserted"]
assert np.mean(won_b > won_a) > 0.3
assert np.mean(won_a > won_b) < 0.55

# %% [markdown]
# That is hardly better than tossing a coin. "She always comes through in the last inning" rests on such numbers.

# %% [markdown] tags=["sitting"]
# **A good place to stop.** Your answers are kept. What comes next: how the order of the hitters changes with the spot, and what
# a list of them does not know.

# %% [markdown]
# ## Move it
#
# Five hitters, bases full, one out. How many runs behind? Watch who is first, and by how much. (Click the slider, then use
# the arrow keys.)

# %%
five = ["Nadia Izezno", "Alenka Larkditch", "Alenka Jarobarev"]
five += ["Saoirse Urrivar", "Benedikt Drynvall"]


behind = [Spot(-runs, 1, "full") for runs in range(5)]
there = best_for_spots(rates, behind, candidates=five)


def runs_behind(runs):
    return plots.draw(there[runs])


# %% tags=["slider"]
move_it(runs_behind, "runs behind", range(5), start=0)

# %% tags=["asserted"]
places = [ranks.table()["label"].tolist() for ranks in there]
assert places[0][0] == places[1][0] == "Alenka Jarobarev"
assert places[2][0] == places[3][0] == places[4][0] == "Alenka Larkditch"
assert places[0][-1] == "Nadia Izezno"
assert places[3][1] == places[4][2] == "Nadia Izezno"
assert places[0].index("Saoirse Urrivar") < places[3].index("Saoirse Urrivar")

# %% [markdown]
# The home-run hitter climbs from last of the five to second or third as the gap grows. Saoirse Urrivar, who seldom strikes out,
# goes the other way. The order changes with the spot, and nowhere is the first far from the second.

# %% [markdown] tags=["slide"]
# # Tied, the home-run hitter is last
#
# Five hitters, bases full, one out. Tied, Nadia is last of them; three runs behind she is second.
#
# picture: above

# %% [markdown]
# ## Exercises
#
# Put your answer in place of the dots and run the cell. You may try as often as you like. Stuck? Type
# `hint("12.two-routes")` (or another name) in the cell, once or twice; after that, `solution("12.two-routes")` tells all. Three
# exercises you have seen already, above.

# %% [markdown] tags=["exercise"]
# ### Out of what? (denominator, core, 2 min)
#
# The coach asks: "When this spot comes up and she is at bat, how often do we win?" Divide the wins by

# %% tags=["choices"]
choose("12.out-of-what")

# %% tags=["answer"]
answer = ...
check("12.out-of-what", answer)

# %% tags=["solution"]
answer = "the spots of this kind in which she came up"
check("12.out-of-what", answer)

# %% [markdown] tags=["exercise"]
# ### It is proven (fault, core, 4 min)
#
# From a sheet handed out before the game: *"Tied, bases full, one out: Alenka Jarobarev is first of 103. It is proven that
# she is the right hitter for this spot."* What is wrong?

# %%
columns = ["label", "plate_appearances", "win_chance", "low", "high", "chance_best"]
ranked.table()[columns].head(4).round(3)

# %% tags=["choices"]
choose("12.it-is-proven")

# %% tags=["answer"]
answer = ...
check("12.it-is-proven", answer)

# %% tags=["solution"]
answer = "the first of so many close ones owes part of her place to luck"
check("12.it-is-proven", answer)

# %% [markdown] tags=["exercise"]
# ### Where "truly best" comes from (complete, core, 5 min)
#
# The last column of that table is no formula. The package draws 4,000 leagues that agree with the season's records: in each of
# them every hitter has a true chance to win. Such a table (a row a league, a column a hitter) comes in as `drawn`.
#
# Fill the four gaps: the 90 % interval of the hitter who is first on average, and in what share of the leagues that hitter is
# truly the best.

# %% tags=["asserted"]
assert percent(ranked.level) == "90 %"
assert ranked.drawn.shape == (4_000, 103)


# %% tags=["answer"]
def how_sure(drawn):
    first = drawn.mean(axis=...).argmax()
    low, high = np.quantile(drawn[:, first], [..., ...])
    truly_best = (drawn.argmax(axis=1) == ...).mean()
    return low, high, truly_best


check("12.how-sure", how_sure)


# %% tags=["solution"]
def how_sure(drawn):
    first = drawn.mean(axis=0).argmax()
    low, high = np.quantile(drawn[:, first], [0.05, 0.95])
    truly_best = (drawn.argmax(axis=1) == first).mean()
    return low, high, truly_best


check("12.how-sure", how_sure)

# %% tags=["asserted"]
assert np.allclose(
    how_sure(ranked.drawn), ranked.table()[["low", "high", "chance_best"]].iloc[0]
)

# %% [markdown] tags=["exercise"]
# ### One more win (compute, optional, 4 min)
#
# Suppose her estimate is exactly right. In about how many such spots does sending Alenka Jarobarev, instead of the league's
# average hitter, win one more game?

# %%
print("with Alenka Jarobarev:", round(listed["win_chance"].iloc[0], 4))
print("with the average one: ", round(ranked.league_win_chance, 4))

# %% tags=["answer"]
answer = ...
check("12.one-more-win", answer)

# %% tags=["solution"]
answer = 1 / (listed["win_chance"].iloc[0] - ranked.league_win_chance)
check("12.one-more-win", answer)

# %% [markdown] tags=["exercise"]
# ### Two routes (transfer, core, 5 min)
#
# Two roads lead to the station. The ring road always takes 55 minutes. Through the town it takes 35 minutes on 6 days in 10, and
# 75 minutes on the others: 51 on average.
#
# On three days out of four Ida has 60 minutes before her train, on the fourth 45. She has to settle on one road for all days.
#
# With the road that is in time more often, on what share of days does she catch the train?

# %% tags=["answer"]
answer = ...
check("12.two-routes", answer)

# %% tags=["solution"]
ring, town = 0.75 * 1 + 0.25 * 0, 0.75 * 0.6 + 0.25 * 0.6
answer = max(ring, town)
check("12.two-routes", answer)

# %% [markdown] tags=["exercise"]
# ### Weak in ties (compute, optional, 4 min)
#
# One run behind, nobody on base, two out. She hits a home run: tied. Then the next hitter comes, bases empty, two out, and one
# run more would win it. Otherwise the game goes on.
#
# Suppose the other club is stronger, and ours wins only 3 of 10 games that go on. What is our chance to win right after the home
# run? The chance of at least one run from "bases empty, two out":

# %%
print("chance of a run:", rate_text(half.chance_of_run[2, 0]))

# %% tags=["answer"]
answer = ...
check("12.weak-in-ties", answer)

# %% tags=["solution"]
one_run = half.chance_of_run[2, 0]
answer = one_run + (1 - one_run) * 0.3
check("12.weak-in-ties", answer)

# %% [markdown]
# ## Where this breaks
#
# **What a tie is worth** is put in by hand. We said one half. For a weak club it is less, and then chasing the win at once
# becomes better than playing for the tie. One behind, a runner on third, one out, Sally less Clara in points:

# %%
chased = {}
for tie_wins in (0.1, 0.3, 0.5, 0.7):
    values = hitlab.game.outcome_values(Spot(-1, 1, "third"), league, tie_wins=tie_wins)
    chased[tie_wins] = 100 * (np.dot(sally, values) - np.dot(clara, values))
pd.Series(chased, name="Sally less Clara").rename_axis("tie wins").round(1).to_frame()

# %% tags=["asserted"]
assert chased[0.1] > 0 > chased[0.5]
assert chased[0.1] > chased[0.3] > chased[0.5] > chased[0.7]

# %% [markdown]
# The same spot, and the answer turns over with a guess about innings that nobody has played yet.

# %% [markdown]
# **The pitcher.** Everything above is against average pitching. A left-handed pitcher suits some hitters better than others:

# %%
lefty = hitlab.game.opposing_pitcher(hitlab.demo_season(), hand="left")
against = hitlab.game.best_for_spot(rates, spot, pitcher=lefty, candidates=five)
sides = listed[["plate_appearances", "win_chance"]]
sides = sides.set_axis(["plate appearances", "average"], axis=1)
sides["left-hander"] = against.table().set_index("label")["win_chance"]
sides.loc[five].round(3)

# %% tags=["asserted"]
moved = (sides["left-hander"] - sides["average"]).loc[five]
assert moved.max() - moved.min() > 0.004
assert places[0][1] == "Saoirse Urrivar"
assert against.table()["label"].iloc[3] == "Saoirse Urrivar"

# %% [markdown]
# Saoirse Urrivar hits left-handed, and falls from second of the five to fourth. The hand moves these chances about as much as the
# choice of the hitter does. So ask for the pitcher before you ask for the hitter.

# %% [markdown]
# **What the model leaves out.** Stolen bases, bunts, wild throws, a hitter walked on purpose, a faster runner put in,
# fielders who move in. Runners advance by shares that are common practice, not measured. Each hitter is supposed to
# hit alike in every state. With bases full and a tied score a pitcher may throw more strikes; that would cost those
# who live on walks, and help Nadia a little. A ranking within half a point cannot survive such doubts.

# %% [markdown]
# ## Your verdict again
#
# Tied, bases full, one out: nobody gives a higher chance to win than Nadia. Your verdict, and how sure you are now?

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("12", "after", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "does not hold"
sure = 0.9
confidence("12", "after", verdict, sure)

# %% [markdown] tags=["exercise"]
# ### Ready for air (say, core, 4 min)
#
# You sit beside the one who made the claim, and it is your turn to speak. One sentence ready for air, in your own words, between the quotation
# marks. It is held against a list: who, in which spot, what, against whom, how sure, and no more than was shown. Run the cell
# with the dots to read the list. If you want the number: `hitlab.check_spot(rates, spot, "Nadia Izezno").chance`.

# %% tags=["answer"]
answer = "..."
check("12.for-air", answer)

# %% tags=["solution"]
answer = (
    "Tied and the bases full, there is about one chance in a hundred that Nadia "
    "Izezno is the best choice of the league's 103 regulars"
)
check("12.for-air", answer)

# %% [markdown]
# Compare it with what the package says:

# %%
ahead = ranked.table().set_index("label")["first_ahead"]
print("the first of the list is truly ahead of her:", percent(ahead["Nadia Izezno"]))
claim = hitlab.check_spot(rates, spot, "Nadia Izezno")
print(claim.verdict_line)
print(fill(claim.say_in_full, 88))
print()
print(fill("On air: " + claim.say, 88))

# %% tags=["asserted"]
assert claim.verdict == "does not hold"
best = hitlab.check_spot(rates, spot)
assert best.verdict == "open"
assert percent(best.chance) == "19 %"
assert percent(claim.chance) == "1 %"
assert percent(ahead["Nadia Izezno"]) == "86 %"
assert (ahead.iloc[1:12] < 0.9).all()

# %% [markdown]
# Be fair to her. Held against the first of the list *alone*, she is the worse choice with a chance of 86 %: likely, and not
# settled. Held against all 102 others, the chance that she is the best is 1 %, because any one of them is enough.
#
# For the first of the list the same question is open, at 19 %. The honest sentence is short: *"Tied with the bases full, there
# is about one chance in a hundred that Nadia Izezno is the best choice of 103, and who is the best stays open."* A dozen
# hitters are as good a choice as these records can tell.

# %% [markdown] tags=["slide"]
# # Say who is a good choice
#
# - chance that Nadia is the best of 103: 1 %
# - that the first of the list is: 19 %
# - a dozen are as good a choice as records can tell

# %% [markdown]
# ## We learned
#
# 1. A chance to win is a sum: each outcome's share, times what it is worth in the spot.
# 2. Find out which outcomes bring the runs that you need. If a walk does, a home run is worth no more; three behind, it is.
# 3. Hitters differ by a point or so in a spot, and records leave as much in doubt. Say who is a good choice, not who is right.
#
# **The bigger picture.** The best on average need not be best for the line that you have to cross. First ask what has to happen.

# %%
progress("12")

# %% [markdown] tags=["plan"]
# ### Minutes
#
# - 0-9: three questions from before, the claim, every learner's verdict in writing
# - 9-17: the 24 states; each guesses "Bases full" before the table is shown
# - 17-27: what each ending is worth; Clara by hand, in pairs
# - 27-32: Sally less Clara, the picture of the ten
# - 32-48: A against B, then "A hundred equals", in pairs; a place to stop
# - 48-55: the slider, with a guess before each step
# - 55-63: "Out of what?" and "It is proven" by vote
# - 63-79: "Where 'truly best' comes from", in pairs; "Two routes" alone
# - 79-95: where this breaks, the verdict again, one sentence each, read aloud
#
# ### On the board
#
# - tied, bases full, one out: which endings win?
# - chance to win = sum of share × worth
# - two outs: strikeout .666, other out .826
# - truth: half a point. Luck of a season: a point or two
# - best of 103: 1 %. Worse than the first: 86 %
#
# ### Votes
#
# - 12.out-of-what
# - 12.it-is-proven
# - 12.again-first-ahead
#
# ### What to cut
#
# In 30 minutes: the claim and the verdict (5), what each ending is worth (5), Clara by hand (5), the picture of the ten (5), A
# against B as a picture without its code (5), the verdict again with one sentence (5). Leave out the 24 states, the slider, the
# functions and all of "Where this breaks" but the first table.
