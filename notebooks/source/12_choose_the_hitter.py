# %% [markdown]
# # 12. Choose the hitter
#
# The right hitter for the last inning: what a spot asks for, and how little tells hitters apart. You need no baseball and
# no statistics.

# %%
from textwrap import fill

import hitlab
import numpy as np
import pandas as pd
from hitlab import plots
from hitlab.exercises import check, choose, confidence, hint, progress, review, solution
from hitlab.exercises.sliders import move_it
from hitlab.game import BASES, OUTCOMES, Spot, wins_text
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
# Last inning, the score is level, there is a runner on every base, one out. One run wins. From the booth:
#
# > "Bring Nadia Izezno! Nobody in this league hits more home runs, and a home run ends it."
#
# The list of home runs is right: she leads it.
#
# Made checkable: *of all regular hitters, nobody gives a higher chance to win in this spot.* The league and its people are
# invented.

# %% [markdown]
# ## Three goals
#
# After this lesson you can
#
# 1. say what each outcome is worth in a spot, and work out a chance to win from it;
# 2. say when a spot asks for the long ball and when for contact;
# 3. say how small the differences are, next to what is not known of the hitters.

# %% [markdown]
# ## What you need
#
# Nothing but this notebook. It helps to have done lessons 1 and 2.
#
# Core: about 45 minutes. Optional: about 10 minutes.
#
# You may move on when the core exercises say *right*. If time is short, leave out the exercise marked optional.

# %% [markdown]
# ## Your verdict first
#
# Level score (*tied* in the pictures), a runner on every base, one out. Is Nadia truly the best choice among the regular hitters of the league? Say
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
# Outs (0, 1, 2) and bases (eight ways to fill three) make 24 states. From each of them, how many runs are still to come until
# the third out, on average?

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
# *error* is a fielder's slip. An *other out* is a ball that is caught, or thrown to a base in time.
#
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
# An inning is worth half a run when it begins. With bases full and nobody out it is worth more than two. Each out takes a good
# part away.
#
# But late in a level game nobody needs an *average*. One run is enough. What matters is the chance to win. What is each ending
# of this plate appearance worth in our spot: level, bases full, one out?

# %%
spot = Spot(0, 1, "full")
ranked = hitlab.game.best_for_spot(rates, spot)
worth = ranked.outcomes().set_index("outcome")
worth.round(3).T

# %% tags=["asserted"]
assert (worth["win_chance"].iloc[2:] == 1).all()
assert rate_text(worth.loc["strikeout", "win_chance"]) == ".666"
assert rate_text(worth.loc["other out", "win_chance"]) == ".826"

# %% [markdown]
# Seven of nine endings win at once: even a walk pushes a runner home. A home run is worth no more than that here.
#
# The two outs differ. After a strikeout (three strikes; the ball goes nowhere) the chance is down to .666. After another out it
# is .826: a ball in the field may still bring a runner home while the hitter is put out. (After a tie the game goes on; we say
# for now that such games are won half of the time.)

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
# And Sally? Here is Sally's chance less Clara's, in percentage points, for one out, by bases and by how far behind they are.
# Above 0 Sally is the better choice.

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
# Neither is "the better hitter". Bases full: level or one behind, Clara by some four points; three behind, Sally by nearly as
# much. Nobody on base: Sally, if one run helps; and if you are two or more behind, it hardly matters, because any way to get on
# base is what you need.
#
# Find the runs that you need, and ask who gets them at once.

# %% tags=["asserted"]
assert points.loc["empty", ["behind by 2", "behind by 3"]].abs().max() < 0.5

# %% [markdown]
# Now the real question: the league's hitters, with what is known and not known of them, in the spot of the claim. Compared are
# all who came up at least a quarter as often as the one who came up most.

# %%
listed = ranked.table().set_index("label")
plots.show(plots.draw(ranked))

# %% tags=["asserted"]
nadia = ranked.table()["label"].tolist().index("Nadia Izezno") + 1
homers = rates.counts.data.set_index("hitter")["home_runs"]
assert homers.idxmax() == "Nadia Izezno"
assert nadia == 20
assert len(listed) == 103
assert listed.index[0] == "Alenka Jarobarev"
assert listed["low"].iloc[0] < listed["win_chance"].iloc[9]
walks = rates.counts.data.set_index("hitter")["walks"]
assert walks["Nadia Izezno"] == 8

# %% [markdown]
# Nadia is twentieth of 103, and not among these ten. She hits home runs, but she has been walked only 8 times, and in this
# spot a walk would do.
#
# Look at the size of things, too. The bar beneath shows the whole scale: all ten stand on one narrow stripe. And the lines
# (what is not known) are longer than the distances between the dots.

# %% [markdown]
# ## Simulate
#
# How often does a season's record name the wrong hitter? We make two up, so that we know the truth: **A** is better in this spot
# than **B** by half a point in a hundred, as the first of our list is than the tenth. Each gets a season of 330 plate appearances, and we read off the record who is
# better.

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

# %% tags=["asserted"]
assert np.isclose(a.sum(), 1)
assert np.isclose(b.sum(), 1)
assert 0.0045 < a @ value - b @ value < 0.0055
assert 0.25 < wrong < 0.40
assert 0.004 < listed["win_chance"].iloc[0] - listed["win_chance"].iloc[9] < 0.006

# %% [markdown]
# And that is with two. With a hundred hitters, most of them as close to each other as these two, the top of the list belongs to
# somebody who is good *and* lucky.
#
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

# %% [markdown]
# ## Move it
#
# Five hitters, bases full, one out. How many runs behind? Watch who is first, and by how much. (Click the slider, then use
# the arrow keys.)

# %%
five = ["Nadia Izezno", "Alenka Larkditch", "Alenka Jarobarev"]
five += ["Saoirse Urrivar", "Benedikt Drynvall"]


def runs_behind(runs):
    there = Spot(-runs, 1, "full")
    return plots.draw(hitlab.game.best_for_spot(rates, there, candidates=five))


# %% tags=["slider"]
move_it(runs_behind, "runs behind", range(5), start=0)

# %% tags=["asserted"]
places = {}
for runs in range(5):
    there = hitlab.game.best_for_spot(rates, Spot(-runs, 1, "full"), candidates=five)
    places[runs] = there.table()["label"].tolist()
assert places[0][0] == places[1][0] == "Alenka Jarobarev"
assert places[2][0] == places[3][0] == places[4][0] == "Alenka Larkditch"
assert places[0][-1] == "Nadia Izezno"
assert places[3][1] == places[4][2] == "Nadia Izezno"
assert places[0].index("Saoirse Urrivar") < places[3].index("Saoirse Urrivar")

# %% [markdown]
# The home-run hitter climbs from last of the five to second or third as the gap grows. Saoirse Urrivar, who seldom strikes out,
# goes the other way. The order changes with the spot, and nowhere is the first far from the second.

# %% [markdown]
# ## Exercises
#
# Put your answer in place of the dots and run the cell. You may try as often as you like. Stuck? Type
# `hint("12.two-routes")` (or another name) in the cell, once or twice; after that, `solution("12.two-routes")` tells all. Two
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
answer = "all such spots in which she was at bat"
check("12.out-of-what", answer)

# %% [markdown] tags=["exercise"]
# ### It is proven (fault, core, 4 min)
#
# From a sheet handed out before the game: *"Level, bases full, one out: Alenka Jarobarev is first of 103. It is proven that
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
answer = "being first of 103 close ones is partly luck; she need not be truly best"
check("12.it-is-proven", answer)

# %% [markdown] tags=["exercise"]
# ### One more win (compute, core, 4 min)
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
# One run behind, nobody on base, two out. She hits a home run: level. Then the next hitter comes, bases empty, two out, and one
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
sides = pd.DataFrame({"average": listed["win_chance"]})
sides["left-hander"] = against.table().set_index("label")["win_chance"]
sides.loc[five].round(3)

# %% tags=["asserted"]
moved = (sides["left-hander"] - sides["average"]).loc[five]
assert moved.max() - moved.min() > 0.004
assert places[0][1] == "Saoirse Urrivar"
assert against.table()["label"].iloc[3] == "Saoirse Urrivar"

# %% [markdown]
# Saoirse Urrivar hits left-handed, and falls from second of the five to fourth. The hand moves these chances about as much as the
# choice of the hitter does. So ask for the pitcher before you ask
# for the hitter.

# %% [markdown]
# **What the model leaves out.** Stolen bases, bunts, wild throws, a hitter walked on purpose, a pinch runner, fielders who move
# in. Runners advance by shares that are common practice, not measured. Each hitter is supposed to hit alike in every state. With
# bases full and a level score a pitcher may throw more strikes; that would cost those who live on walks, and help Nadia a
# little. A ranking within half a point cannot survive such doubts.

# %% [markdown]
# ## Your verdict again
#
# Level, bases full, one out: nobody gives a higher chance to win than Nadia. Your verdict, and how sure you are now?

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("12", "after", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "does not hold"
sure = 0.9
confidence("12", "after", verdict, sure)

# %% [markdown]
# Now one sentence ready for air. What the package would say:

# %%
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

# %% [markdown]
# Be fair to her: there are 102 others, and nobody else does much better. For the first of the list the same question is open, at
# 19 %. The honest sentence is short: *"Any of a dozen hitters is right here. What she must not do is strike out."*

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
