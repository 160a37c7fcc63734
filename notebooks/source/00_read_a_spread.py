# %% [markdown]
# # 0. Read a spread
#
# How far numbers lie apart, how two columns go together, and what luck alone does. Whoever has had a course in
# statistics may begin with lesson 1. Everybody else needs no baseball and no statistics.

# %%
import hitlab
import numpy as np
import pandas as pd
from hitlab import plots
from hitlab.exercises import check, choose, confidence, hint, progress, solution
from hitlab.exercises.lesson_00 import beliefs, dots, rectangles, spreads, squares
from hitlab.exercises.sliders import move_it
from hitlab.wording import percent, rate_text

# %% [markdown]
# ## The claim
#
# A coach holds a list of 69 hitters. Of each it says how many of the first 400 swings were hard. (A *swing* is any try to
# hit the ball. It is *hard* if the ball stays between the lines and leaves the bat at 95 miles an hour or more. More
# baseball is not needed.)
#
# > "People tell me it is all luck. If these hitters were equally good, their numbers would lie closer together than
# > they do."
#
# Is she right? How close together is "close together"?
#
# The league is invented, and so are its people.

# %% [markdown] tags=["slide"]
# # Is it all luck?
#
# 69 hitters, 400 swings each. Some hit it hard twice as often as others.
#
# Would equals lie that far apart?

# %% [markdown]
# ## What you need
#
# Nothing but this notebook, a pencil and paper. Run a cell with Shift+Enter, from top to bottom.
#
# Core: about 65 minutes. Optional: about 25 minutes. In two sittings: about 35 and 30 minutes.
#
# You may move on when the core exercises say *right*. If time is short, leave out "Move it" and all that is marked
# optional.

# %% [markdown]
# ## Your verdict first
#
# Before you see any data, commit yourself. Suppose that all 69 were equally good, and only luck set them apart. Would
# their numbers lie **closer together** than they do?
#
# We shall make leagues of 69 equals and count how many of them lie as far apart as hers. Fixed before we look: with fewer
# than one in twenty the claim holds; with more than half it does not hold; between the two it is open.
#
# Say `"holds"` (yes, the coach is right), `"does not hold"` or `"open"`, and how sure you are, from 1/3 (a blind guess
# among three) to 1 (certain).

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("00", "before", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "open"
sure = 0.5
confidence("00", "before", verdict, sure)

# %% [markdown]
# ## Three goals
#
# After this lesson you can
#
# 1. say in one number how far numbers lie apart, and in another how far two columns go together;
# 2. say whether numbers lie further apart than luck alone would put them;
# 3. say what to believe after a first look.

# %% [markdown]
# ## New words
#
# Five hitters swing 20 times each.
#
# So many of their swings are hard: **2, 4, 5, 6, 8**. Before each word below you see in a picture what it means, and
# work it out by hand.

# %% tags=["asserted"]
assert hitlab.Conventions().threshold_mph == 95

# %%
five = np.array([2, 4, 5, 6, 8])
plots.show(squares(five))

# %% tags=["asserted"]
assert five.sum() == 25
assert five.mean() == 5
assert (np.abs(five - five.mean()) == [3, 1, 0, 1, 3]).all()
assert ((five - five.mean()) ** 2 == [9, 1, 0, 1, 9]).all()
assert (five.var(), five.std()) == (4, 2)

# %% [markdown]
# Put all 25 hard swings into one heap and share them out evenly: five each. That is the level line.
#
# - **mean**: the sum of all, divided by how many there are.
#
# Nobody need be *at* the mean. The sticks show how far off each one is: 3, 1, 0, 1 and 3.
#
# - **spread**: how far the numbers lie from their mean, taken together.

# %% [markdown] tags=["slide"]
# # Five numbers, one level line
#
# Share the 25 hard swings out evenly: five each. That is the mean. The sticks are the spread.
#
# picture: above

# %% [markdown]
# Five sticks are five numbers; one is wanted. Adding them up gives nothing, for those above the line and those below
# cancel: -3 - 1 + 0 + 1 + 3 = 0. So put a square on each stick, which is never less than nothing. The areas are 9, 1, 0,
# 1 and 9; shared out evenly, 4 each.
#
# - **variance**: the mean of the squares of the distances from the mean.
#
# An area is no length. The side of a square of 4 is 2: a typical hitter of the five is 2 hard swings off.
#
# - **standard deviation**: the square root of the variance; a typical distance from the mean, in the unit of the
#   numbers.

# %% [markdown]
# Squares make the far ones count for more. So more than half of the numbers mostly lie nearer to the mean than that:
# of our five, 4, 5 and 6 lie within 2 of it.

# %%
away = five - five.mean()
print("squares:", away**2, " their mean:", (away**2).mean())
print("its root:", np.sqrt((away**2).mean()), " and at once:", five.std())

# %% [markdown] tags=["slide"]
# # One number for a spread
#
# Square each distance from the mean. The mean of the squares is the variance, 4; its root the standard deviation, 2.

# %% [markdown] tags=["python"]
# **Python: reckon.** You may use paper, or let Python do it. Whatever piece of Python an exercise needs is shown before it.
#
# `+`, `-`, `*` and `/` reckon; `**` raises to a power: `** 2` squares, `** 0.5` takes the root. `=` keeps what stands on
# its right under the name on its left. Square brackets make a list, and `np.array` of a list is an *array*: many numbers
# under one name. What is done to it is done to each of them. `.sum()`, `.mean()`, `.min()`, `.max()`, `.var()` and
# `.std()` make one number of them.

# %% tags=["python"]
three = np.array([1, 4, 7])
print(three + 1, 2 * three, three / 2, three**2)
print(three.sum(), three.mean(), three - three.mean())

# %% [markdown] tags=["exercise"]
# ### Five others (compute, core, 3 min)
#
# Five others swing 40 times each. Hard are **5, 8, 9, 11, 17**. By hand: what is their standard deviation?

# %% tags=["answer"]
answer = ...
check("00.five-others", answer)

# %% tags=["solution"]
others = np.array([5, 8, 9, 11, 17])
answer = np.sqrt(((others - others.mean()) ** 2).mean())
check("00.five-others", answer)

# %% [markdown]
# ### Two columns
#
# Our five swing 20 times more. Hard are now, in the same order, **4, 2, 6, 5, 8**. Was who was high in the first 20
# high in the next 20, too?

# %%
second = np.array([4, 2, 6, 5, 8])
plots.show(rectangles(five, second))

# %% tags=["asserted"]
assert (second.mean(), second.std()) == (5, 2)
assert ((five - 5) * (second - 5) == [3, 3, 0, 0, 9]).all()
assert ((five - 5) * (second - 5)).mean() == 3
assert np.corrcoef(five, second)[0, 1].round(9) == 0.75
assert rate_text(0.75) == ".750"

# %% [markdown] tags=["slide"]
# # High in one, high in the other?
#
# Above both means or below both: the rectangle counts plus. Else minus.
#
# picture: above

# %% [markdown]
# The lines are the two means; both are 5. Each dot makes a rectangle with their crossing. To the upper right or the
# lower left both distances have the same sign, and it counts plus. In the other two corners it counts minus.
#
# By hand: 3, 3, 0, 0 and 9, on average 3. That depends on the unit, so divide by both standard deviations: 3 / (2 × 2)
# = 0.75.
#
# - **correlation**: the mean of the products of both distances, divided by both standard deviations. 1: in step; 0: the
#   one tells nothing of the other (on a line); -1: the one up, the other down.

# %% [markdown] tags=["python"]
# **Python: a function** is a recipe with a name. `def` gives the name and, in brackets, what goes in; the lines of the recipe are
# moved in by four blanks; `return` says what comes out. What a comma joins comes out together, and two names on the
# left take one each. Nothing is done before somebody calls the function by its name. What follows a `#` is a comment, for people only.

# %% tags=["python"]


def ends(numbers):
    # the least and the most, as shares of the sum
    shares = numbers / numbers.sum()
    return shares.min(), shares.max()


least, most = ends(np.array([2, 3, 5]))
print("from", least, "to", most)

# %% [markdown] tags=["exercise"]
# ### Do they go together? (complete, core, 4 min)
#
# The same for any two columns. Fill the three gaps. It is tried on columns that you have not seen.


# %% tags=["answer"]
def together(first, second):
    a = first - ...  # how far each is from the mean of its column
    b = ... - second.mean()
    products = a * b
    return products.mean() / (... * second.std())


check("00.go-together", together)


# %% tags=["solution"]
def together(first, second):
    a = first - first.mean()
    b = second - second.mean()
    products = a * b
    return products.mean() / (first.std() * second.std())


check("00.go-together", together)

# %% [markdown]
# ## Look
#
# Now the coach's list: everybody in the league with 400 swings, and of each the first 400.

# %%
season = pd.read_parquet(hitlab.demo_season())
swing = hitlab.counting.swing_ledger(season)["swing"]
number = swing.groupby(season["hitter_id"]).cumsum()  # his first swing, second, ...
table = hitlab.tally(season[number <= 400]).table()
table = table[table["swings"] == 400]
league = (table["hard"] / 400).to_numpy()
print(len(league), "hitters, mean", rate_text(league.mean()))
print("standard deviation", rate_text(league.std()))

# %% tags=["asserted"]
assert len(league) == 69
assert league.max() > 2 * league.min()
assert rate_text(league.mean()) == ".137"
assert rate_text(league.std()) == ".024"
assert (table["swings"].sum(), table["unmeasured"].sum()) == (27_600, 96)

# %% [markdown]
# A *rate* is how often something happened, out of how many chances. It is written as the game writes it: .137 means
# 137 hard swings in a thousand. (96 of the 27,600 swings ended with a ball that nobody measured; here they count as not
# hard, and from lesson 1 on as hard as often as the others.)

# %% [markdown] tags=["exercise"]
# ### Within one (predict, core, 2 min)
#
# How many of the 69 lie within **one standard deviation** of the mean? Do not count; give a low and a high end, at most
# 12 apart: `answer = 20, 32`, for instance.

# %% tags=["answer"]
answer = ...
check("00.within-one", answer)

# %% tags=["solution"]
within = (np.abs(league - league.mean()) <= league.std()).sum()
answer = within - 3, within + 3
check("00.within-one", answer)

# %%
plots.show(dots(league, "The league: some hit it hard twice as often"))

# %% [markdown] tags=["slide"]
# # The league, one dot a hitter
#
# Mean .137, standard deviation .024. The band: one standard deviation to either side.
#
# picture: above

# %% [markdown]
# Is that much? Nothing is much or little by itself. It has to be held against something: here against 69 hitters who are
# equally good.

# %% [markdown] tags=["sitting"]
# **A good place to stop.** You can say how far numbers lie apart and how far they go together; next comes how much of the
# league's spread luck alone would make.

# %% [markdown]
# ## Simulate
#
# Suppose the coach is wrong: everybody has the same chance of a hard swing, the league's mean, and luck does the rest.
# Let chance play 400 swings for each.

# %%
rng = np.random.default_rng(1)
equals = rng.binomial(400, league.mean(), 69) / 400
print("one league of equals: standard deviation", rate_text(equals.std()))
five_leagues = rng.binomial(400, league.mean(), (5, 69)) / 400
print("five more:", [rate_text(one) for one in sorted(five_leagues.std(axis=1))])

# %% tags=["asserted"]
assert equals.std() > 0.012
assert five_leagues.std(axis=1).max() < league.std()
middle_three = sorted(five_leagues.std(axis=1))[1:4]
assert [rate_text(one) for one in middle_three[::2]] == [".015", ".017"]

# %% [markdown]
# Equals lie apart as well; luck sees to that. But not by the same amount each time, so one number will not do. Take the
# five, leave out the least and the most, and say: three in five lie from .015 to .017. That is a range, by hand. With
# more leagues one need not cut off so much at either end.

# %% [markdown]
# - **range**: a low and a high end, and how often what comes lies between them. A 90 % range leaves out one in ten.

# %% tags=["asserted"]
assert percent(0.9) == "90 %"

# %% [markdown] tags=["python"]
# **Python: rows and columns.** `rng.binomial(20, 0.25, 5)` plays 20 swings with a chance of 0.25 each, five times over, and gives how many were hard.
# With `(3, 5)` for the 5 it gives three rows of five. `.mean(axis=1)` is the mean of each *row* (so with `.std`, `.min`
# and the others), `axis=0` that of each column. `np.quantile(numbers, [0.05, 0.95])` gives the two ends between which
# the middle nine in ten of them lie.

# %% tags=["python"]
rows = np.random.default_rng(5).binomial(20, 0.25, (3, 5))
print(rows)
print("of each row:", rows.mean(axis=1), "of each column:", rows.max(axis=0))
print("nine in ten of 1 to 100:", np.quantile(np.arange(1, 101), [0.05, 0.95]))

# %% [markdown] tags=["exercise"]
# ### Luck alone (write, core, 4 min)
#
# Make the 90 % range of the spread of equals, for any league. Of 2,000 leagues take the middle nine in ten.

# %% tags=["answer"]


def luck_alone(hitters, swings, rate, rng):
    # hard swings, one row a league: rng.binomial(swings, rate, (2_000, hitters));
    # rates of them; one standard deviation a row: .std(axis=1);
    # then the two ends: np.quantile(..., [0.05, 0.95])
    return ...


check("00.luck-alone", luck_alone)

# %% tags=["solution"]


def luck_alone(hitters, swings, rate, rng):
    hard = rng.binomial(swings, rate, (2_000, hitters))  # one row a league
    spreads = (hard / swings).std(axis=1)
    return np.quantile(spreads, [0.05, 0.95])


check("00.luck-alone", luck_alone)

# %%
leagues = rng.binomial(400, league.mean(), (2_000, 69)) / 400
by_luck = leagues.std(axis=1)
print("spread as wide as the league's:", (by_luck >= league.std()).sum(), "of 2,000")
plots.show(spreads(by_luck, league.std()))

# %% tags=["asserted"]
from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT
from hitlab.exercises.lesson_00 import FAILS_ABOVE, HOLDS_BELOW

low, high = np.quantile(by_luck, [0.05, 0.95])
assert (rate_text(low), rate_text(high)) == (".015", ".019")
assert (by_luck >= league.std()).sum() == 0
assert (by_luck >= league.std()).mean() < HOLDS_BELOW == 1 / 20
assert FAILS_ABOVE == 1 / 2
assert (percent(HOLDS_AT), percent(FAILS_AT)) == ("90 %", "10 %")
luck_variance = league.mean() * (1 - league.mean()) / 400
assert abs(by_luck.mean() / np.sqrt(luck_variance) - 1) < 0.02
assert 0.4 < luck_variance / league.var() < 0.6

# %% [markdown] tags=["slide"]
# # No league of equals lies so far apart
#
# Luck alone: .015 to .019, nine times in ten. The coach's league: .024.
#
# picture: above

# %% [markdown]
# Of 2,000 leagues of equals not one lies as far apart as the coach's. Nine in ten lie from .015 to .019, and hers at
# .024. So these hitters are not equals.
#
# None of 2,000 is below one in twenty: the claim holds. That share is not the chance that the claim is true. It says how
# often *equals* lie so far apart, not how often hitters who lie so far apart are equals. From lesson 2 on a claim gets a
# chance of its own, and with it other bounds: from 90 % up it holds, up to 10 % it does not.

# %% [markdown]
# But look where the bars stand: luck alone is not far behind. Variances show it best, because they add up: the
# variance seen is luck's and that of the true rates together. (A *true rate* is what a hitter would have after a
# million swings.) (Standard deviations do not add up.)

# %%
from_luck = leagues.var(axis=1).mean()  # of the 2,000 leagues of equals, on average
print(f"variance seen {league.var():.6f}, from luck {from_luck:.6f}")
print("luck's part of it:", percent(from_luck / league.var()))

# %% tags=["asserted"]
assert percent(from_luck / league.var()) == "51 %"

# %% [markdown] tags=["slide"]
# # Half of it is luck, all the same
#
# - variances add up: luck's and the true one
# - after 400 swings luck makes about half of the variance seen

# %% [markdown]
# About half of what sets them apart is luck: not all of it, as people tell the coach, and not little.

# %% [markdown]
# ### After one swing
#
# Five hitters stand behind a curtain. They hit it hard in one, two, three, four and five swings of ten. One of them comes
# out, chosen by lot: one in five for each. One swing: hard! Which of them was it?
#
# By hand: in ten swings each they would have 1, 2, 3, 4 and 5 hard ones, 15 together. Of 15 hard swings 5 are the best
# one's: one in three.

# %%
true_rates = np.array([0.1, 0.2, 0.3, 0.4, 0.5])
before = np.repeat(1 / 5, 5)
after = true_rates / true_rates.sum()
plots.show(beliefs(before, after))

# %% tags=["asserted"]
assert np.allclose(after, np.array([1, 2, 3, 4, 5]) / 15)
assert (percent(before[0]), percent(after[-1])) == ("20 %", "33 %")

# %% [markdown]
# - **posterior**: what one believes after the data, here from 20 % to 33 % for the best of them.
#
# One swing moves the belief, and does not settle it. Nobody is ruled out.

# %% [markdown] tags=["slide"]
# # One hard swing moves what you believe
#
# From one in five to one in three for the best, and nobody is ruled out.
#
# picture: above

# %% [markdown] tags=["exercise"]
# ### Twice (compute, optional, 4 min)
#
# The same hitter swings once more, and it is hard again. How likely is it now that it is the best of the five? A share
# from 0 to 1, three decimals. (Of 100 *pairs* of swings, how many of each one's are hard twice?)

# %% tags=["answer"]
answer = ...
check("00.twice", answer)

# %% tags=["solution"]
both_hard = true_rates**2
answer = both_hard[-1] / both_hard.sum()
check("00.twice", answer)

# %% [markdown]
# ## Move it
#
# How far apart luck puts 69 equals depends on how often they swing. Begin at 25 swings each and give them more. (Click
# the slider, then use the arrow keys.)

# %%


def league_of_equals(swings):
    chance = np.random.default_rng(2)
    made = chance.binomial(swings, league.mean(), 69) / swings
    return dots(made, f"69 equals after {swings:,} swings each")


# %% tags=["slider"]
move_it(league_of_equals, "swings each", [25, 50, 100, 200, 400, 800, 1600], start=100)

# %% tags=["asserted"]
draw = np.random.default_rng(3)
wide = {
    n: (draw.binomial(n, league.mean(), (2_000, 69)) / n).std(axis=1).mean()
    for n in (100, 400, 1600)
}
assert abs(wide[100] / wide[400] - 2) < 0.05
assert abs(wide[400] / wide[1600] - 2) < 0.05

# %% [markdown]
# Four times as many swings, half the spread: luck gets smaller, but slowly.

# %% [markdown]
# ## Exercises
#
# Put your answer in place of the dots and run the cell. You may try as often as you like.
#
# Stuck? Type `hint("00.of-two")` (or another name) in the cell, once or twice. After that, `solution("00.of-two")`
# tells all.

# %% [markdown] tags=["exercise"]
# ### The mean of two (denominator, optional, 2 min)
#
# One hitter has 3 hard swings of 10, another 9 of 90. Their rates are .300 and .100, and between them lies .200. But how
# often is a swing of these two hard? Their 12 hard swings are to be divided by

# %% tags=["asserted"]
assert [rate_text(one) for one in (3 / 10, 9 / 90, 0.2)] == [".300", ".100", ".200"]

# %% tags=["choices"]
choose("00.of-two")

# %% tags=["answer"]
answer = ...
check("00.of-two", answer)

# %% tags=["solution"]
answer = "100, the swings of both taken together"
check("00.of-two", answer)

# %% [markdown] tags=["exercise"]
# ### Two clubs (fault, optional, 4 min)
#
# From a local paper: *"The hitters of the Copperhollow Kites average .151, those of the Ashferry Millers .133. The
# Kites have the better hitting coach."* The cell deals these hitters out to two clubs by chance, 2,000 times. What is
# wrong?

# %%
kites = league[table["club"] == "Copperhollow Kites"]
millers = league[table["club"] == "Ashferry Millers"]
print(f"difference of the two clubs: {kites.mean() - millers.mean():+.3f}")
gaps = []
for _ in range(2_000):
    dealt = rng.permutation([*kites, *millers])
    gaps.append(dealt[: len(kites)].mean() - dealt[len(kites) :].mean())
low, high = np.quantile(gaps, [0.05, 0.95])
print(f"dealt by chance, nine in ten: {low:+.3f} to {high:+.3f}")
as_far = np.mean(np.abs(gaps) >= abs(kites.mean() - millers.mean()))
print(f"as far apart as that, one way or the other: {percent(as_far)}")

# %% tags=["asserted"]
assert (rate_text(kites.mean()), rate_text(millers.mean())) == (".151", ".133")
assert low < kites.mean() - millers.mean() < high

# %% tags=["choices"]
choose("00.two-clubs")

# %% tags=["answer"]
answer = ...
check("00.two-clubs", answer)

# %% tags=["solution"]
answer = "chance alone often puts two means as far apart as that"
check("00.two-clubs", answer)

# %% [markdown] tags=["exercise"]
# ### Two buses (transfer, optional, 3 min)
#
# To the station the green bus takes 30 minutes on average, with a standard deviation of 2 minutes; the blue one 30
# minutes, with 10. You have 36 minutes until the train. Which do you take?

# %% tags=["choices"]
choose("00.two-buses")

# %% tags=["answer"]
answer = ...
check("00.two-buses", answer)

# %% tags=["solution"]
answer = "the green one: it seldom lies six minutes off its mean"
check("00.two-buses", answer)

# %% [markdown]
# ## Where this breaks
#
# **One far number.** Squares make much of whoever is far off. Let the best of the five have 18 hard swings instead of 8
# in the first round, and 18 in the second.

# %%
far, far_again = np.array([2, 4, 5, 6, 18]), np.array([4, 2, 6, 5, 18])
print("standard deviation:", five.std(), "and now", far.std().round(1))
print("correlation of all five:", np.corrcoef(far, far_again)[0, 1].round(2))
print("of the other four:", np.corrcoef(far[:4], far_again[:4])[0, 1].round(2))

# %% tags=["asserted"]
assert far.std() > 2.5 * five.std()
assert np.corrcoef(far, far_again)[0, 1] > 0.9
assert np.corrcoef(far[:4], far_again[:4])[0, 1] < 0.6
assert (five.std(), round(pd.Series(five).std(), 2)) == (2, 2.24)
assert pd.Series(league).std() < 1.01 * league.std()

# %% [markdown]
# One hitter now makes most of both numbers. So look at the picture before you trust the number.
#
# **Divided by five or by four.** Some programs, pandas among them, divide the squares' sum by one less than the count,
# because five numbers stand for more that were not seen: our 2 becomes 2.24. With 69 hitters it hardly matters.
#
# **Equals in a real league.** Our equals all had the same chance in every swing. Real ones meet other pitchers in other
# parks, and that alone sets them apart a little. Whether it was ability here, only an invented league can show, for it
# knows everybody's true rate:

# %%
known = pd.read_csv(hitlab.demonstration.demo_folder() / "truth.csv")
true = known.set_index("hitter_id").loc[table["hitter_id"], "hard_per_swing"]
print("standard deviation of the true rates:", rate_text(np.std(true)))
print("luck's, and both together:", rate_text(np.sqrt(from_luck)), end=", ")
print(rate_text(np.sqrt(np.var(true) + from_luck)))

# %% tags=["asserted"]
assert rate_text(np.std(true)) == ".016"
assert abs(np.sqrt(np.var(true) + from_luck) - league.std()) < 0.0005

# %% [markdown]
# The coach is right: these hitters truly differ, and luck's share and theirs make up what was seen.
#
# **Together is no cause.** Two columns may go together because a third thing moves both: hitters who play in the same
# park, for instance.

# %% [markdown] tags=["slide"]
# # Look before you trust a number
#
# - one far hitter can make most of a spread
# - that two columns go together names no cause

# %% [markdown]
# ## Your verdict again
#
# The claim was: if these hitters were equally good, their numbers would lie closer together than they do. Give your
# verdict again, and how sure you are now.

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("00", "after", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "holds"
sure = 0.95
confidence("00", "after", verdict, sure)

# %% [markdown] tags=["exercise"]
# ### Ready for air (say, core, 3 min)
#
# The coach is asked on air. Write her one sentence ready for air, in your own words, between the quotation marks. It is
# held against a list: what was counted, out of what, against what, how sure, and no more than was shown. Run the cell
# with the dots to read the list. Words that the list does not know are no mistake: you compare the two sentences, yours and
# ours, and run the cell once more.

# %% tags=["answer"]
answer = "..."
check("00.for-air", answer)

# %% tags=["solution"]
answer = (
    "Over 400 swings each, these hitters' rates of hard hits lie further apart than "
    "those of equals: not one of 2,000 leagues that luck alone made was spread as wide"
)
check("00.for-air", answer)

# %% [markdown]
# ## We learned
#
# 1. The standard deviation is the root of the mean square of the distances from the mean; the correlation is the mean
#    product of two columns' distances, over both standard deviations.
# 2. A spread is much or little only beside the spread of equals. This league's is wider than luck alone makes it, and
#    about half of its variance is luck all the same.
# 3. After the data one believes more of what would have made them more often, and a single swing settles nothing.
#
# **The bigger picture.** Before you explain why two numbers differ, ask how far apart chance would have put them.

# %% [markdown] tags=["slide"]
# # First luck, then the reasons
#
# Before you explain why two numbers differ, ask how far apart chance would have put them.

# %%
progress("00")

# %% [markdown] tags=["plan"]
# ### Minutes
#
# - 0-6: the claim; everybody's verdict, in writing
# - 6-21: five numbers on the board: mean, squares, standard deviation; the first exercise by hand
# - 21-28: two columns and their rectangles
# - 28-35: the league; the prediction, then the picture
# - 35-51: leagues of equals, the range, the function
# - 51-56: the five behind the curtain
# - 56-65: where this breaks; verdict again, the sentence, two of them read out
#
# ### On the board
#
# 2, 4, 5, 6, 8 and their mean, 5
# -3, -1, 0, 1, 3; squares 9, 1, 0, 1, 9; mean 4; root 2
# 4, 2, 6, 5, 8: products 3, 3, 0, 0, 9; mean 3; 3 / (2 × 2) = 0.75
# seen .024; equals .015 to .019
# 1, 2, 3, 4, 5 of 15
#
# ### Votes
#
# - 00.two-clubs
# - 00.two-buses
# - 00.of-two
#
# ### What to cut
#
# In 30 minutes leave out the two columns and the five behind the curtain, and give the exercise of one's own as
# homework. The league of equals must stay.
