# %% [markdown]
# # 10. Ask whether two rates go together
#
# Two lists that hardly agree, and one skill behind both. Luck hides links; this lesson takes it out again. You need no
# baseball and no statistics.

# %%
from textwrap import fill

import hitlab
import numpy as np
import pandas as pd
from hitlab import plots
from hitlab.exercises import check, choose, confidence, hint, progress, review, solution
from hitlab.exercises.lesson_10 import hundred_swings, make_hitters, observed_link
from hitlab.exercises.sliders import move_it
from hitlab.plots import look
from hitlab.wording import percent, rate_text

# %% [markdown] tags=["review"]
# **Three questions from before.** They have other numbers each time, and what you miss comes again.

# %% tags=["review"]
review("10")

# %% tags=["answer", "review"]
review("10", ..., ..., ...)

# %% tags=["review", "solution"]
from hitlab.exercises import right_of_review

review("10", *right_of_review("10"))

# %% [markdown]
# ## The claim
#
# An old coach says it, on the air:
#
# > "Whoever is ready for the fastball also hits the breaking ball."
#
# His young colleague has looked it up: "I put both lists side by side. They hardly agree. Those are two different skills."
#
# To check it we have to say what we count: **hitters who touch more of the fastballs they swing at also touch more of the
# breaking balls.** The league is invented, and so are its people.

# %% [markdown] tags=["slide"]
# # Two lists that hardly agree
#
# Coach: ready for the fastball, good against the breaking ball. Colleague: "My two lists hardly agree." Who is right?

# %% [markdown]
# ## What you need
#
# This notebook and, for the exercises in code, the Python of lessons 0, 1, 3 and 6 (cells headed *Python*).
#
# Core: about 85 minutes. Optional: about 15 minutes. In two sittings: about 50 and 35 minutes.
#
# You may move on when the core exercises say *right*. If time is short, leave out "Does it repeat?".

# %% [markdown]
# ## Your verdict first
#
# Do hitters who truly touch more fastballs also touch more breaking balls? Say `"holds"`, `"does not hold"` or `"open"`, and
# how sure you are, from 1/3 (a blind guess among three) to 1 (certain).

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("10", "before", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "open"
sure = 0.5
confidence("10", "before", verdict, sure)

# %% [markdown]
# ## Three goals
#
# After this lesson you can
#
# 1. say why two lists with luck in them agree less than the skills behind them;
# 2. take the luck out, and say when it cannot be done;
# 3. name what makes two rates go together without one skill behind both.

# %% [markdown]
# ## New words
#
# - **breaking ball**: a slower pitch that spins sideways or down and bends away from where it seemed to go.
# - **contact**: a swing that touches the ball, wherever it goes.
# - **observed rate**: what was counted, skill and luck together. The **true rate** is what it would settle at after very many
#   swings; nobody ever sees it.
# - **correlation**: how well two lists agree, from -1 (one runs the other way) through 0 (no link) to 1 (in step).
# - **interval**: from where to where the true number most likely lies.

# %% [markdown]
# ## Look
#
# Each hitter has two rates, from two kinds of pitches. No swing is in both.

# %%
fastballs = hitlab.situation("pitch_kind=fastball")
breaking = hitlab.situation("pitch_kind=breaking")
first = hitlab.two_rates.RateOf("contact", "swings", fastballs)
second = hitlab.two_rates.RateOf("contact", "swings", breaking)
link = hitlab.two_rates.correlate_rates(hitlab.demo_season(), first, second)
columns = ["first_exposure", "first_rate", "second_exposure", "second_rate"]
link.table().set_index("hitter")[columns].round(3).head(5)

# %% [markdown]
# (*Exposure* is the number of swings.) Now what the colleague did: he took the hitters with many swings at both (at least
# 100 at fastballs and 50 at breaking balls) and correlated what they showed.

# %%
print(f"{link.naive_hitters} hitters, correlation {rate_text(link.naive)}")

# %% tags=["asserted"]
assert rate_text(round(link.naive, 2))[:3] == ".39"
assert link.naive_hitters == 99

# %% [markdown]
# Not much: about .39, where 1 would be perfect agreement. Is that the skill, or the luck?

# %% [markdown] tags=["slide"]
# # What the colleague saw
#
# 99 hitters, two lists of contact per swing. Correlation .39, where 1 would be perfect agreement.

# %% [markdown]
# ## Simulate
#
# Let us make a league in which we know. In it the *true* rates correlate by about .8. Every hitter then swings at both kinds
# of pitches, and we correlate what shows. How much of the .8 is left?

# %%
league = make_hitters(150, seed=10)
true_link = np.corrcoef(league.T)[0, 1]
print(f"the true rates: {true_link:.2f}")
for swings in (100, 200, 500, 1_000, 5_000):
    shown = [observed_link(league, swings, seed) for seed in range(40)]
    print(
        f"{swings:5,} swings at each: {np.mean(shown):.2f} on average over 40 seasons"
    )

# %% tags=["asserted"]
assert rate_text(round(true_link, 1))[:2] == ".8"
left = [
    np.mean([observed_link(league, n, s) for s in range(40)])
    for n in (100, 200, 500, 5_000)
]
assert (np.diff(left) > 0).all()
assert left[1] < 0.6 * true_link
assert left[3] > 0.93 * true_link

# %% [markdown]
# With 200 swings at each, about a season's worth, half of the link is gone. Single seasons scatter, but they scatter around a
# number that is too small: **luck in the rates pulls the correlation toward 0.** More hitters do not help. Only more swings do.

# %% [markdown] tags=["slide"]
# # Luck pulls a correlation toward 0
#
# True link about .8. After 200 swings at each kind of pitch, half is gone. More hitters do not help; only more swings do.

# %% [markdown] tags=["exercise"]
# ### Fifty swings (predict, core, 3 min)
#
# The true rates correlate by .8, as above. Every hitter swings **50** times at each kind of pitch. What correlation will the
# observed rates show, about? Give a low and a high end, at most 0.2 apart: `answer = 0.6, 0.8`, for instance.

# %% tags=["answer"]
answer = ...
check("10.fifty-swings", answer)

# %% tags=["solution"]
many = make_hitters(100_000, seed=3)
about = observed_link(many, 50, seed=4)
answer = about - 0.08, about + 0.08
check("10.fifty-swings", answer)

# %% [markdown]
# Why? Luck in one rate knows nothing of luck in the other. So each list is partly skill, which agrees, and partly
# luck, which does not. How much is skill? See how far apart the hitters stand, and how far luck alone would throw
# them. What luck does not explain is each list's *share that is true*. Then
#
# **what shows ≈ what is true × the root of (share of the first × share of the second)**
#
# Divide instead of multiplying, and the luck is out.

# %% [markdown] tags=["slide"]
# # Taking the luck out
#
# What shows ≈ what is true × the root of (share of the first × share of the second). So divide.

# %%
shares = link.reliabilities
print("share that is true, fastballs:     ", percent(shares[0]))
print("share that is true, breaking balls:", percent(shares[1]))
print("a true correlation of 1 would show as", rate_text(link.largest_naive))

# %% tags=["asserted"]
assert rate_text(round(link.largest_naive, 2))[:3] == ".51"
assert np.isclose(link.largest_naive, np.sqrt(shares[0] * shares[1]))
assert all(0.4 < share < 0.6 for share in shares)

# %% [markdown]
# So even one and the same skill would have shown the colleague no more than about .51. He saw .39, and read it as if 1 had
# been possible.

# %% [markdown] tags=["slide"]
# # Even one skill would show only .51
#
# About half of each list is luck. The colleague saw .39 and read it as if 1 had been possible.

# %% [markdown] tags=["exercise"]
# ### From counts to the link (complete, core, 5 min)
#
# The same with nothing but counts: two tables, `contact` and `swings`, with one row a hitter and the columns `fast` and
# `breaking`. What is reckoned with a whole table is done column by column, so `.mean()` and `.var()` give one number for
# each. The spread of a list, squared, is its *variance* (`.var()`). Luck alone makes a variance of
# rate × (1 - rate) / swings; what the list has beyond that is skill. Fill the four gaps.


# %% tags=["answer"]
def luck_out(contact, swings):
    rates = contact / ...
    luck = (rates * (1 - rates) / swings).mean()
    shares = (... - luck) / ...
    seen = rates["fast"].corr(rates["breaking"])
    return seen / np.sqrt(shares["fast"] * ...)


check("10.from-counts", luck_out)


# %% tags=["solution"]
def luck_out(contact, swings):
    rates = contact / swings
    luck = (rates * (1 - rates) / swings).mean()
    shares = (rates.var() - luck) / rates.var()
    seen = rates["fast"].corr(rates["breaking"])
    return seen / np.sqrt(shares["fast"] * shares["breaking"])


check("10.from-counts", luck_out)

# %% [markdown]
# ### With an interval
#
# Dividing by hand gives one number and no idea how far off it is; with few hitters it can even pass 1. `correlate_rates` asks
# instead: which true correlations could have made these counts? (It takes all 150 hitters, each by his swings; the .39 is of
# 99, counted alike. So it need not say what the division says.) On the right is the answer.

# %%
plots.show(plots.draw(link))

# %% [markdown] tags=["slide"]
# # With the luck taken out
#
# About .84, with 90 % certainty between .63 and .98. The dashed line is what the lists showed.
#
# picture: above

# %%
print(fill(link.explanation, 88))

# %% tags=["asserted"]
assert rate_text(round(link.correlation, 2))[:3] == ".84"
assert rate_text(round(link.low, 2))[:3] == ".63"
assert rate_text(round(link.high, 2))[:3] == ".98"
assert percent(link.level) == "90 %"
assert link.low > link.naive
assert len(link.data) == 150
assert 0 < link.correlation - link.naive / link.largest_naive < 0.1

# %% [markdown]
# About .84, and with 90 % certainty between .63 and .98. The dashed line is what the colleague saw: it lies outside.
#
# The league is invented, so for once we can open the envelope and look at the true rates of misses:

# %%
truth = pd.read_csv(hitlab.demonstration.demo_folder() / "truth.csv")
misses = ["whiffs_per_swing_fastball", "whiffs_per_swing_breaking"]
print("true:", rate_text(truth[misses].corr().iloc[0, 1]))

# %% tags=["asserted"]
assert rate_text(round(truth[misses].corr().iloc[0, 1], 2))[:3] == ".83"
assert link.low < truth[misses].corr().iloc[0, 1] < link.high

# %% [markdown]
# .83. The old coach was right, and the colleague's lists were too noisy to show it. (Contact is what is not missed, so true
# contact correlates just as true misses do.)

# %% [markdown]
# ### A line around the wrong number
#
# The colleague objects: "I can draw a line, too. I take my 99 hitters, draw 99 of them with replacement, so that some come
# twice and some not at all, and correlate again. Two thousand times. The middle 90 % is my interval." It is a good recipe,
# and widely used. What does it promise here?

# %% [markdown] tags=["python"]
# **Python: collect.** `found = []` is a list with nothing in it, and `found.append(x)` puts `x` at its end. In a loop
# (`for`, lesson 3) that keeps what each round brings. `rng.integers(6, size=2)` draws two whole numbers from 0 to 5, the
# same one twice if it falls so; in square brackets they say which places of an array to take.

# %% tags=["python"]
found, dice, again = [], np.array([1, 2, 3, 4, 5, 6]), np.random.default_rng(10)
for _ in range(4):
    places = again.integers(6, size=2)
    found.append(dice[places].sum())
print("four throws of two dice:", np.array(found))

# %% [markdown] tags=["exercise"]
# ### Draw the hitters again (write, core, 6 min)
#
# Write his recipe down, with twice as many draws, so that their own luck shows less. `first` and `second` are arrays of
# observed rates, in the same order of hitters; `rng` is a generator of chance. The function returns the two ends of the
# middle 90 % of 4,000 correlations.


# %% tags=["answer"]
def drawn_again(first, second, rng):
    # 4,000 times: draw as many hitters as there are, with replacement
    # (rng.integers(7, size=7) gives places from 0 to 6; first[places] is
    # what stands there), and correlate: np.corrcoef(first, second)[0, 1]
    # then the two ends of the middle 90 % (np.quantile)
    return ...


check("10.drawn-again", drawn_again)


# %% tags=["solution"]
def drawn_again(first, second, rng):
    links, hitters = [], len(first)
    for _ in range(4_000):
        pick = rng.integers(hitters, size=hitters)
        links.append(np.corrcoef(first[pick], second[pick])[0, 1])
    return np.quantile(links, [0.05, 0.95])


check("10.drawn-again", drawn_again)

# %% [markdown]
# And here it is for his 99 hitters, as a picture.

# %%
often = link.data.query("first_exposure >= 100 and second_exposure >= 50")
two = often[["first_rate", "second_rate"]].to_numpy()
picks = np.random.default_rng(5).integers(len(two), size=(2_000, len(two)))
links = np.array([np.corrcoef(two[pick].T)[0, 1] for pick in picks])
low, high = np.quantile(links, [0.05, 0.95])
ax, own = look.axes_for(None, 7.0, 3.2)
ax.hist(links, bins=30, color=look.ACCENTS[1])
for x, word in ((link.naive, "seen"), (0.83, "true")):
    ax.axvline(x, color=look.ACCENTS[0])
    ax.annotate(word, (x + 0.01, 215), color=look.ACCENTS[0])
ax.set(xlim=(0, 1), ylim=(0, 240), yticks=[], xlabel="correlation of rates seen")
below = f"99 hitters drawn again: nine in ten from {low:.2f} to {high:.2f}"
look.finish(ax, own, "The line does not reach the truth", below, alt=below)
plots.show(ax)

# %% tags=["asserted"]
assert len(two) == 99
assert np.isclose(np.corrcoef(two.T)[0, 1], link.naive)
assert high < 0.6
assert low < link.naive < high
assert links.max() < 0.83

# %% [markdown]
# None of the 2,000 comes near the truth. Drawing hitters again says how far *what shows* would move with other hitters. Each
# of them keeps his luck, so what shows stays too small, and the line is a good one around the wrong number. An interval
# covers what its recipe varies, and nothing else.

# %% [markdown] tags=["slide"]
# # A good line around the wrong number
#
# Drawing the hitters again leaves the luck in. The line is short, and the truth lies outside.
#
# picture: above

# %% [markdown]
# ## Move it
#
# One league, always the same 150 hitters. Each dot is one of them. Give them more swings and watch the cloud take
# shape. (Click the slider, then use the arrow keys. The luck shown is one that lies near the averages above. Dots are
# moved apart by less than half a swing, so that none hides another.)


# %%
def cloud(swings):
    shown = np.random.default_rng(0).binomial(swings, league) / swings
    linked = f"{np.corrcoef(shown.T)[0, 1]:.2f}"
    ax, own = look.axes_for(None, 7.0, 5.0)
    apart = np.random.default_rng(1).uniform(-0.4, 0.4, shown.shape) / swings
    ax.scatter(*(shown + apart).T, s=16, alpha=0.7, color=look.ACCENTS[1])
    ax.set_xlim(0.6, 0.95)
    ax.set_ylim(0.4, 0.9)
    look.rate_axis(ax.xaxis, "contact per swing against fastballs")
    look.rate_axis(ax.yaxis, "contact per swing against breaking balls")
    below = f"Observed, {swings:,} swings at each. The true rates: {true_link:.2f}"
    return look.finish(ax, own, f"They correlate by {linked}", below, alt=below)


# %% tags=["slider"]
move_it(cloud, "swings", [50, 100, 200, 500, 1_000, 2_000, 5_000], start=100)

# %% [markdown] tags=["slide"]
# # Few swings, wide cloud
#
# Each dot is a hitter, always the same 150. Give them more swings, and the link comes out of the fog.
#
# picture: above

# %% tags=["asserted"]
draws = (np.random.default_rng(0).binomial(n, league) for n in (50, 5_000))
tight = [np.corrcoef(drawn.T)[0, 1] for drawn in draws]
assert tight[0] < 0.5 < tight[1]

# %% [markdown]
# With few swings the cloud is wide in all directions, and the link drowns in it. The hitters did not change.

# %% [markdown] tags=["sitting"]
# **A good place to stop.** You can say what luck does to a link, and take it out; what you answered is kept. Next come the
# exercises, what mimics a link, and your verdict.

# %% [markdown]
# ## Exercises
#
# Put your answer in place of the dots and run the cell. You may try as often as you like.
#
# Stuck? Type `hint("10.fifty-swings")` (or another name) in the cell, once or twice. After that,
# `solution("10.fifty-swings")` tells all. Three exercises you have seen already, above.

# %% [markdown] tags=["exercise"]
# ### Out of what? (denominator, core, 2 min)
#
# "When he swings at a breaking ball, how often does he touch it?" Divide the breaking balls that he touched by

# %% tags=["choices"]
choose("10.out-of-what")

# %% tags=["answer"]
answer = ...
check("10.out-of-what", answer)

# %% tags=["solution"]
answer = "his swings at breaking balls"
check("10.out-of-what", answer)

# %% [markdown] tags=["exercise"]
# ### Take the luck out (compute, optional, 4 min)
#
# Correct the colleague's correlation by hand. Two decimals.

# %%
observed, (share_one, share_two) = link.naive, link.reliabilities
print(f"{observed:.3f} shows; shares that are true: {share_one:.3f}, {share_two:.3f}")

# %% tags=["answer"]
answer = ...
check("10.take-the-luck-out", answer)

# %% tags=["solution"]
answer = observed / np.sqrt(share_one * share_two)
check("10.take-the-luck-out", answer)

# %% [markdown] tags=["exercise"]
# ### The same swings (fault, core, 4 min)
#
# From a newsletter: *"Misses per swing at fastballs and hard-hit balls per swing at fastballs: correlation -.32 among the 100
# hitters with 100 swings or more. Who misses more cannot hit hard."* What is the fault?

# %%
counts = hitlab.tally(hitlab.demo_season(), where=fastballs).table()
many = counts[counts["swings"] >= 100]
print(len(many), "hitters")
print(f"{(many['whiffs'] / many['swings']).corr(many['hard'] / many['swings']):+.2f}")

# %% tags=["asserted"]
seen = (many["whiffs"] / many["swings"]).corr(many["hard"] / many["swings"])
assert rate_text(round(-seen, 2))[:3] == ".32"
assert len(many) == 100

# %% tags=["choices"]
choose("10.same-swings")

# %% tags=["answer"]
answer = ...
check("10.same-swings", answer)

# %% tags=["solution"]
answer = (
    "both rates come from the same swings: a miss more is a hard ball "
    "less, by luck alone"
)
check("10.same-swings", answer)

# %% [markdown] tags=["slide"]
# # Same swings, one luck
#
# A swing that misses cannot be a hard ball. Count both on the same swings, and luck alone sets them apart.

# %% [markdown] tags=["exercise"]
# ### Two exams (transfer, core, 4 min)
#
# A school gives two short exams, one in history and one in biology. Marks correlate by 0.30. From repeated exams the school
# knows: in either one, half of the spread of marks (as a variance) is knowledge, and half is which questions came up.
#
# By how much does what the pupils **know** of the two subjects correlate?

# %% tags=["answer"]
answer = ...
check("10.two-exams", answer)

# %% tags=["solution"]
answer = 0.30 / np.sqrt(0.5 * 0.5)
check("10.two-exams", answer)

# %% [markdown] tags=["exercise"]
# ### A hundred swings (compute, optional, 5 min)
#
# How much of a list is true after 100 swings? Work it out for contact per swing against fastballs. The *variance* is the spread
# squared. Skill has the spread shown below. Luck has the variance rate × (1 - rate) / swings. What share of the two variances
# together is skill?

# %%
print(hundred_swings().to_string())

# %% tags=["answer"]
answer = ...
check("10.hundred-swings", answer)

# %% tags=["solution"]
rate, spread = hundred_swings()
answer = spread**2 / (spread**2 + rate * (1 - rate) / 100)
check("10.hundred-swings", answer)

# %% [markdown]
# ## Where this breaks
#
# **When it cannot be told.** If a list holds hardly any skill, there is nothing to take the luck from. Hard-hit balls
# per swing against the two kinds, with a *likelihood ratio*: how much better skill and luck together explain a list
# than luck alone.

# %%
hard = [
    hitlab.two_rates.RateOf("hard", "swings", kind) for kind in (fastballs, breaking)
]
hard_link = hitlab.two_rates.correlate_rates(hitlab.demo_season(), *hard)
claim = hitlab.check_together(hard_link)
print("verdict:", claim.verdict)
print(fill(claim.say_in_full, 88))

# %% tags=["asserted"]
assert claim.verdict == "open"
assert not hard_link.can_be_told
assert percent(hard_link.chance_positive) == "99 %"
assert "2.3; 2.71 is asked" in " ".join(claim.say_in_full.split())

# %% [markdown]
# The package declines, although it could print a number: *if* both lists hold skill, the link is positive with a
# chance of 99 %. But whether the list against fastballs holds any is just what is not known. Its rates lie hardly
# farther apart than luck would throw them. (Luck alone brings the likelihood ratio to 2.71 in one list of twenty; it was
# set before anybody looked.) "Cannot be told" is an answer, and it is not "no link".

# %% [markdown]
# **Which rate?** We took contact for "ready". Take fair balls per contact against fastballs instead (lesson 9), and contact per
# swing against breaking balls:

# %%
fair = hitlab.two_rates.RateOf("in_play", "contact", fastballs)
other = hitlab.two_rates.correlate_rates(hitlab.demo_season(), fair, second)
print(hitlab.check_together(other).verdict_line)
print(
    f"correlation {other.correlation:+.2f}, from {other.low:+.2f} to {other.high:+.2f}"
)

# %% tags=["asserted"]
assert hitlab.check_together(other).verdict == "open"
assert other.low < 0 < other.high
assert other.high - other.low > 0.6

# %% [markdown]
# Open, and so wide that nearly anything fits. So say on the air *which* rate you mean. "Ready" is a word; contact per swing is
# a count.

# %% [markdown]
# **A shared cause.** Suppose the two skills have nothing to do with each other, but the ten clubs meet different pitchers: in
# some schedules everything is harder to touch. We add the schedule to both rates. Five thousand swings each, so luck is out.

# %%
rng = np.random.default_rng(12)
schedule = np.repeat(rng.normal(0, 0.04, 10), 15)[:, None]
apart = np.array([0.79, 0.68]) + rng.normal(0, 0.03, (150, 2))
print(f"the skills:          {np.corrcoef(apart.T)[0, 1]:+.2f}")
print(f"what the swings say: {observed_link(apart + schedule, 5_000, 13):+.2f}")

# %% tags=["asserted"]
assert abs(np.corrcoef(apart.T)[0, 1]) < 0.2
assert observed_link(apart + schedule, 5_000, 13) > 0.4

# %% [markdown]
# A link out of nothing, and no correction for luck can remove it: it is not luck. The package cannot see such causes either. So it
# names them:

# %% [markdown] tags=["slide"]
# # A link that no skill made
#
# - Park, schedule, radar: they move both rates of a club.
# - Taking the luck out does not take them out.

# %%
for cause in link.shared_causes:
    print(fill(f"- {cause}", 88))

# %% [markdown]
# ### Does it repeat?
#
# The same tool answers another question: is a rate a skill at all? Correlate its first half of the season with its second.

# %%
season = pd.read_parquet(hitlab.demo_season())
middle = sorted(season["date"])[len(season) // 2]
early, late = season[season["date"] < middle], season[season["date"] >= middle]
halves = hitlab.tally(early), hitlab.tally(late)
names = [
    hitlab.two_rates.RateOf("contact", "swings", words=w) for w in ("early", "late")
]
again = hitlab.two_rates.correlate_counts(
    *halves, *names, apart="the halves share no date"
)
print(f"observed {again.naive:+.2f}, corrected {again.correlation:+.2f}")

# %% tags=["asserted"]
assert again.correlation > 0.7
assert again.naive < 0.5
assert abs(again.naive - link.naive) < 0.03

# %% [markdown]
# Observed, the halves of one and the same rate agree about as little as fastball and breaking ball did. With the luck taken
# out, contact per swing repeats: it is a skill.

# %% [markdown]
# ## Your verdict again
#
# Hitters who truly touch more fastballs also touch more breaking balls. Your verdict, and how sure you are now?

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("10", "after", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "holds"
sure = 0.95
confidence("10", "after", verdict, sure)

# %% [markdown] tags=["exercise"]
# ### Ready for air (say, core, 4 min)
#
# The old coach is going on air once more. Write him one sentence ready for air that nobody can take apart, in your own words,
# between the quotation marks. It is held against a list: who (the 150 whom the answer rests on; the 99 were the
# colleague's), what, out of what, how sure, and no more than was shown. Run the cell with the dots to read the list.

# %% tags=["answer"]
answer = "..."
check("10.for-air", answer)

# %% tags=["solution"]
answer = (
    "Among the 150 hitters of this league, those who touch more of the fastballs "
    "they swing at most likely touch more of the breaking balls, too"
)
check("10.for-air", answer)

# %% [markdown]
# Compare it with the package's, which leaves the 150 to the card, and with what it warns of:

# %%
claim = hitlab.check_together(link)
print(claim.verdict_line)
print(fill(claim.say_in_full, 88))
print()
print(fill("On air: " + claim.say, 88))
print(fill(f"Avoid: {claim.avoid}", 88))

# %% tags=["asserted"]
assert claim.verdict == "holds"
assert len(link.data) == 150
assert "names no cause" in " ".join(claim.avoid.split())

# %% [markdown]
# ## We learned
#
# 1. Luck in two lists pulls their correlation toward 0. Few swings make one skill look like two.
# 2. Divide by the root of the two shares that are true, with an interval. Where a list holds no skill, it cannot be told.
# 3. Park, radar, schedule and exposure can tie two rates together. So can counting the same swings twice.
#
# **The bigger picture.** "They hardly agree" says something about the lists first. Ask how well a list agrees with itself before
# you ask whether it agrees with another.

# %%
progress("10")

# %% [markdown] tags=["plan"]
# ### Minutes
#
# - 0-8: coach against colleague; everybody writes a verdict and how sure
# - 8-14: the two lists; vote 1
# - 14-28: simulate: what is left of .8; predict fifty swings before anybody counts
# - 28-42: what shows and what is true; from counts to the link
# - 42-54: the picture with the interval; draw the hitters again, and why that line misses
# - 54-58: the slider; stop, or a break
# - 58-69: vote 2 and two exams
# - 69-79: where it breaks: nothing to tell, another rate, a shared cause; vote 3
# - 79-85: verdict again, sentences read aloud
#
# ### On the board
#
# - list = skill + luck
# - luck of one list knows nothing of luck of the other
# - shows ≈ true × root(share × share)
# - seen .39; most that could show .51; true about .84
# - a line covers what its recipe varies
# - park, schedule, radar, same swings
#
# ### Votes
#
# - 10.out-of-what
# - 10.same-swings
# - 10.again-itself
#
# ### What to cut
#
# In 30 minutes: the claim, the two lists, the simulation with the slider, the formula at the board, the picture with the
# interval, same swings, the verdict. Leave out both functions, "Which rate?" and "Does it repeat?".
