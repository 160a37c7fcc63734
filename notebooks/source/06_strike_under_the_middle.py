# %% [markdown]
# # 6. Strike under the middle
#
# Why some balls fly and others roll: a bat, a ball, and a tenth of an inch. You need no baseball, no statistics and no
# physics beyond a thrown stone.

# %%
import hitlab
import numpy as np
import pandas as pd
from hitlab import plots
from hitlab.exercises import check, choose, confidence, hint, progress, review, solution
from hitlab.exercises.lesson_06 import AIM_IN, HITTER, SCATTER
from hitlab.exercises.sliders import move_it
from hitlab.physics import Scatter, Swing, hold_still, swing_margin, swing_outcomes
from hitlab.wording import percent

# %% [markdown] tags=["review"]
# **Three questions from before.** They have other numbers each time, and what you miss comes again.

# %% tags=["review"]
review("06")

# %% tags=["answer", "review"]
review("06", ..., ..., ...)

# %% tags=["review", "solution"]
from hitlab.exercises import right_of_review

review("06", *right_of_review("06"))

# %% [markdown]
# ## The claim
#
# A *home run* (the ball flies over the fence) early in the game, a *pop-up* (nearly straight up, and caught) later on. A
# former hitter, from the booth:
#
# > "He did not swing any flatter. That is the same swing that went over the wall, a hair farther under the ball. Where he
# > hits it tells you where it goes, not how steep he swings."
#
# Made checkable: *from one swing of a hitter to his next, at the same pitch, the place where bat and ball meet tells
# more of the launch angle* (how steeply the ball leaves the bat) *than how steeply the bat climbs.* Mind the two
# limits: one hitter, one pitch.

# %% [markdown] tags=["slide"]
# # Same swing, another ball
#
# First over the wall, then a pop-up. What was different, the swing or the place where bat and ball met?

# %% [markdown]
# ## What you need
#
# This notebook and, for the exercises in code, the Python of lessons 0 and 1 (cells headed *Python*).
#
# Core: about 105 minutes. Optional: about 5 minutes. In two sittings: about 45 and 60 minutes.
#
# You may move on when the core exercises say *right*. If time is short, leave out "What if we chose wrongly?" and
# "What a swing's angle is good for".

# %% [markdown]
# The numbers come from a model: two round things that collide and grip each other as was measured (Cross & Nathan 2006;
# Kensrud, Nathan & Smith 2017; as quoted). Its barrel hangs 30 degrees under the handle (about so in one study of
# softball hitters, Kidokoro & Morishita, as quoted; for baseball we found none). Its people are averages, not persons.

# %% [markdown]
# ## Your verdict first
#
# From one swing of a hitter to his next, at the same pitch: does the place where bat and ball meet tell more of the
# launch angle than how steeply the bat climbs? Say `"holds"`, `"does not hold"` or `"open"`, and how sure you are, from
# 1/3 (a blind guess) to 1.

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("06", "before", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "does not hold"
sure = 0.6
confidence("06", "before", verdict, sure)

# %% [markdown]
# ## Three goals
#
# After this lesson you can
#
# 1. say what a tenth of an inch does to a batted ball;
# 2. find out, by hand, how much of a spread goes when one source of it is held still;
# 3. explain what a swing along the path of the pitch is good for, and what a steeper one.

# %% [markdown]
# ## New words
#
# - **launch angle**: how steeply the ball leaves the bat (for short, *launch*); 0 is level, 90 straight up. Below 10
#   we call it a ground ball, up to 25 a liner (in tables *line drive*), above a fly ball (common practice, no source).
# - **attack angle**: how steeply the bat travels upward when it meets the ball.
# - **descent**: how steeply the pitch comes down. A fast one comes down at about 6 degrees (Nathan 2015, from memory).
# - **inches under**: by how much the path of the bat's middle passes under that of the ball's. Below 0: over it.
# - **offset**: the same at the moment of first touch, measured square to the hanging barrel.

# %% [markdown]
# ## Look
#
# A pitch comes down at 6 degrees. The bat goes up at 8 degrees, nearly back along the pitch's path; we call that **in
# line with the pitch**. When they touch, the middle of the bat is four tenths of an inch under the middle of the ball.
# Seen along the bat, which is held level in this picture (*backspin*: the top of the ball turns toward the hitter, so
# many turns a minute, *rpm*):

# %%
plots.show(plots.collision_side_view(85, 6, 70, 8, 0.4))  # speeds and angles

# %% [markdown]
# The ball does not leave along the bat's path. It leaves close to the line through the two middles, because a round bat
# pushes a round ball away from its own middle. Strike lower, and that line tips up.

# %% [markdown] tags=["slide"]
# # The ball leaves along the two middles
#
# A round bat pushes a round ball away from its own middle. Strike lower, and the line tips up.
#
# picture: above

# %% [markdown] tags=["exercise"]
# ### A tenth of an inch (predict, core, 3 min)
#
# From now on the barrel hangs as our hitter's does, and so the same strike sends the ball about five degrees higher than in
# the picture above. His bat passes a tenth of an inch (2.5 millimetres) lower than before. By how many degrees does the launch angle rise? Give a low and a high end, at most 1.5 apart.

# %% tags=["answer"]
answer = ...
check("06.tenth-of-an-inch", answer)

# %% tags=["solution"]
low, high = swing_outcomes(np.array([0.35, 0.45]), swing=HITTER).launch_deg
answer = high - low - 0.3, high - low + 0.3
check("06.tenth-of-an-inch", answer)

# %% [markdown]
# Larger steps, the same swing every time. (*Exit speed* is how fast the ball leaves the bat.)

# %%
under = np.array([-0.5, -0.25, 0.0, 0.25, 0.5, 0.75, 1.0])
hits = swing_outcomes(under, swing=HITTER)
table = {"inches under": under, "launch, deg": hits.launch_deg}
table["exit, mph"] = hits.exit_mph
pd.DataFrame(table).round({"launch, deg": 0, "exit, mph": 0})

# %% tags=["asserted"]
steps = np.diff(hits.launch_deg)
assert ((steps > 5) & (steps < 6)).all()
assert hits.launch_deg[0] < 1
assert hits.launch_deg[-1] > 30
assert (np.diff(hits.offset_in) < 0.25).all()
level = hitlab.physics.collide(85, 6, 70, 8, 0.4, pitch_backspin_rpm=2000).launch_deg
assert round(float(swing_outcomes(0.4, swing=HITTER).launch_deg - level)) == 5
assert np.abs(hits.offset_in - under).max() < 0.2
assert f"{hits.offset_in[2]:.2f}" == "0.09"

# %% [markdown]
# Every quarter of an inch (6 millimetres) brings five to six degrees. From half an inch over the middle to an inch
# under it, the same swing makes a ground ball, a liner and a high fly. A ball is less than three inches thick.
#
# The same as a curve. It goes by the *offset* at the moment of first touch, measured square to the hanging barrel, and so
# its steps are a little shorter. The table goes by how far the bat's path passes under the ball's: 0 there is an offset of
# 0.09, for the bat touches the ball a little before the two paths are closest.

# %% [markdown]
# (The *good spot* is the place along the barrel that sends the ball off best.)

# %% [markdown] tags=["slide"]
# # A quarter inch: five to six degrees
#
# - half an inch over the middle: along the ground
# - a quarter under: a liner
# - an inch under: a high fly, from the same swing

# %%
plots.show(plots.launch_against_offset(HITTER))

# %% tags=["asserted"]
fine = swing_outcomes(np.linspace(-0.5, 1.2, 341), swing=HITTER)
liners = fine.offset_in[(fine.launch_deg >= 10) & (fine.launch_deg <= 25)]
assert round(float(liners.max() - liners.min()), 1) == 0.6
assert hits.outcome[[0, 3, 6]].tolist() == [2, 3, 4]

# %% [markdown] tags=["slide"]
# # Liners fit into six tenths of an inch
#
# Lower on the ball, higher off the bat. Outside the narrow band: grounders and flies.
#
# picture: above

# %% [markdown]
# Now the other way round. The bat passes four tenths of an inch under, always, and the swing changes:

# %%
attacks = np.array([3.0, 8.0, 13.0])
hits = swing_outcomes(0.4, attack_deg=attacks, swing=HITTER)
table = {
    "attack, deg": attacks,
    "launch, deg": hits.launch_deg,
    "exit, mph": hits.exit_mph,
}
pd.DataFrame(table).round({"launch, deg": 1, "exit, mph": 0})

# %% tags=["asserted"]
per_degree = (hits.launch_deg[2] - hits.launch_deg[0]) / 10
assert 0.7 < per_degree < 0.9

# %% [markdown] tags=["slide"]
# # One degree of swing, eight tenths of launch
#
# Ball for ball the swing counts. The question is what *differs* from swing to swing.

# %% [markdown]
# Five degrees more swing bring about four degrees more launch. So the swing's angle does count, ball for ball. The
# question is which of the two *differs* more from swing to swing.

# %% [markdown]
# ## Simulate
#
# One hitter, many swings at the same pitch. From swing to swing four things differ: his **aim** by about an inch and a
# half up or down, his **timing** by 14 milliseconds (thousandths of a second), the **angle** of his swing by 4
# degrees, and the **place along the bat** by two inches (standard deviations).
#
# Nobody has published these four for pitched balls, as far as we could find. Ours were chosen so that he whiffs as people
# do; they are **our assumption, change it here**:

# %%
many = 20_000
his = swing_margin(swing=HITTER, scatter=SCATTER, aim_in=AIM_IN, swings=many)
for outcome, share in his.shares.items():
    print(f"{outcome:12}{percent(share)}")

# %% tags=["asserted"]
assert 0.22 < his.shares["whiff"] < 0.28
assert 0.30 < his.shares["foul"] < 0.36
assert percent(0.38) == "38 %"
assert 0.38 < his.hard_share < 0.45

# %% [markdown]
# He misses a quarter of his swings, as hitters do. Of fouls he has a third of his swings where hitters have about 38 %
# (common practice, no source): the model knows no hitter who is fooled and saves himself.

# %% [markdown]
# ### Hold one still
#
# What do his launch angles follow? There is a plain experiment for it. Let everything differ, and measure the variance
# (the standard deviation, squared). Then hold one source still, let the others differ as before, and measure again. What
# went, went with that source.

# %% [markdown] tags=["python"]
# **Python: one column.** `rng.normal(0, [20, 15], (4, 2))` draws four rows of two errors around 0, the first column with
# a standard deviation of 20, the second of 15. `errors[:, 1]` is column 1 in all rows (counted from 0), and
# `errors[:, 1] = 0` puts zeros there. `.sum(axis=1)` adds up each row. `len(spreads)` says how many there are.

# %% tags=["python"]
errors = np.random.default_rng(6).normal(0, [20, 15], (4, 2)).round()
print("column 1:", errors[:, 1])
print("sum of each row:", errors.sum(axis=1))
print("variance of these sums:", errors.sum(axis=1).var())
errors[:, 1] = 0
print("with zeros in column 1:", errors.sum(axis=1))

# %% [markdown] tags=["exercise"]
# ### By hand (write, core, 7 min)
#
# Try it where the result can be reckoned. A launch angle is the sum of several errors; `spreads` has the standard
# deviation of each, in degrees of launch, such as `[20, 15, 4]`. `held` is the place of the one to hold still (0 for the
# first). Return the **share** of the variance that goes with it. `rng` is a generator of chance.


# %% tags=["answer"]
def goes(spreads, held, rng):
    # 20,000 swings, a row each, with a column for every source:
    # rng.normal(0, spreads, (20_000, len(spreads)))
    # the variance of their sums; the same with one column at 0; what share went?
    return ...


check("06.by-hand", goes)


# %% tags=["solution"]
def goes(spreads, held, rng):
    errors = rng.normal(0, spreads, (20_000, len(spreads)))
    all_differ = errors.sum(axis=1).var()
    errors[:, held] = 0
    return 1 - errors.sum(axis=1).var() / all_differ


check("06.by-hand", goes)

# %% [markdown]
# `hold_still` does the same with the model of bat and ball, for his fair balls (those between the lines). It says two
# more things: how much of the variance a straight line on the *place* of contact explains (the correlation, squared),
# and one on the *angle* of the swing.

# %%
still = hold_still(SCATTER, swing=HITTER, aim_in=AIM_IN, swings=many)
print(f"explained by where the bat met the ball:  {percent(still.offset_share)}")
print(f"explained by the angle of his swing:      {percent(still.attack_share)}")
print(f"\nAll four differ: launch angles spread by {still.launch_sd_deg:.0f} degrees.")
names = {"miss": "aim", "timing": "timing", "attack": "angle of the swing"}
names["sideways"] = "place along the bat"
for what, degrees in still.left_deg.items():
    gone = percent(still.goes[what])
    left = f"{degrees:.0f} degrees are left"
    print(f"{names[what]:19} held still: {left}, {gone} of the variance gone")

# %% tags=["asserted"]
assert percent(still.offset_share) == "86 %"
assert percent(still.attack_share) == "2 %"
assert still.goes["attack"] < 0.1
assert min(still.goes["miss"], still.goes["timing"]) > 0.15
assert still.goes["attack"] < still.goes["sideways"] < 0.2
assert max(still.goes.values()) < 0.4

# %% [markdown]
# Where bat and ball meet explains most of the launch angle; the angle of the swing next to nothing by itself. But
# no single source of error is *the* cause of the place. Hold the aim perfectly still, and most of the spread is
# still there: late, the bat is at another height; too far out, the hanging barrel is lower. Many errors, one place.
#
# That is why the claim says *tells*, and not *causes*. Part of what the swing's angle does works through the place, too.

# %% [markdown]
# The four shares that went add up to 63 % only. Just fair balls are looked at: with one error gone
# more swings end in one, and the other errors show more of their spread. With errors a tenth as large, where no ball is
# lost, the four add up, as in your function.

# %% tags=["asserted"]
assert percent(sum(still.goes.values())) == "63 %"
small = Scatter(0.15, 1.4, 0.4, 0.21)
assert 10 * small.timing_ms == SCATTER.timing_ms
tenth = hold_still(small, swing=HITTER, aim_in=AIM_IN, swings=many)
assert 0.98 < sum(tenth.goes.values()) < 1.02
steady = Scatter(0.0, SCATTER.timing_ms, SCATTER.attack_deg, SCATTER.sideways_in)
steady_shares = swing_margin(swing=HITTER, scatter=steady, aim_in=AIM_IN).shares
lost, lost_steady = (
    shares["whiff"] + shares["foul"] for shares in (his.shares, steady_shares)
)
assert lost_steady < lost - 0.05

# %% [markdown] tags=["slide"]
# # The place tells most, the climb little
#
# - where bat and ball met: 86 % of the variance
# - how steeply the bat climbed: 2 %
#
# One hitter, one pitch, in a model.

# %% [markdown]
# ### What if we chose wrongly?
#
# The scatter was our choice. Here are twelve hitters with 20,000 swings each, ours (1.5 and 4.0) among them: aims and
# swings that wander less or more. (It takes some seconds.)

# %%
rows = {}
for aim in (0.5, 1.0, 1.5, 2.0):
    for angle in (2.0, 4.0, 8.0):
        one = Scatter(aim, SCATTER.timing_ms, angle, SCATTER.sideways_in)
        rows[aim, angle] = hold_still(one, swing=HITTER, aim_in=AIM_IN, swings=many)
table = {
    "place explains": {k: percent(v.offset_share) for k, v in rows.items()},
    "angle explains": {k: percent(v.attack_share) for k, v in rows.items()},
}
for name, what in {"goes with aim": "miss", "goes with angle": "attack"}.items():
    table[name] = {k: percent(max(v.goes[what], 0)) for k, v in rows.items()}
pd.DataFrame(table).rename_axis(["aim wanders, in", "angle wanders, deg"])

# %% tags=["asserted"]
assert min(found.offset_share for found in rows.values()) > 0.75
assert max(found.attack_share for found in rows.values()) < 0.12
for key, found in rows.items():
    gap = found.goes["attack"] - found.goes["miss"]
    if key[0] <= 0.5 and key[1] >= 4:
        assert gap > 0
    if key[0] >= 1.5 and key[1] <= 4:
        assert gap < 0
assert rows[1.5, 4.0].goes == still.goes
again = [
    hold_still(SCATTER, swing=HITTER, aim_in=AIM_IN, swings=many, seed=seed).goes
    for seed in range(6)
]
for what in ("miss", "attack"):
    assert np.std([goes[what] for goes in again], ddof=1) < 0.025

# %% [markdown]
# The first two columns hardly move: in this model the place beats the angle for all twelve hitters. The last two say
# what a hitter gains by steadying his aim, or his swing. Whoever aims to half an inch gains more from a steadier
# swing, if that wanders by four degrees or more. One like ours, who whiffs a quarter of his swings, gains more from a
# steadier aim.

# %% [markdown]
# The gaps of which we speak are wide: with other draws each of these shares is up to two in a hundred higher or lower
# (one standard deviation). So gaps of a few in a hundred say nothing, and the order down a column neither.
#
# Published work fits the order, not the size: against a machine, hitters spread less across the bat than along it or in
# depth (Higuchi et al. 2016, abstract).
#
# And if errors go together, say, late swings are flatter or steeper ones?

# %%
for link in (-0.9, -0.5, 0.5, 0.9):
    linked = Scatter(1.5, 14.0, 8.0, 2.1, timing_with_attack=link)
    one = hold_still(linked, swing=HITTER, aim_in=AIM_IN, swings=many)
    place, angle = percent(one.offset_share), percent(one.attack_share)
    print(f"timing with angle {link:+.1f}: place explains {place}, angle {angle}")
    assert one.offset_share > 3 * one.attack_share

# %% [markdown]
# The angle borrows from the timing then, up to about a quarter. The place stays far ahead.

# %% tags=["asserted"]
borrowed = Scatter(1.5, 14.0, 8.0, 2.1, timing_with_attack=-0.9)
one = hold_still(borrowed, swing=HITTER, aim_in=AIM_IN, swings=many)
assert 0.22 < one.attack_share < 0.3

# %% [markdown]
# ### What a swing's angle is good for
#
# Why then do coaches talk about the swing at all? Because it decides how much error is forgiven. The same hitter with
# six swings, each aimed for the same launch angle of 15 degrees, 10,000 times each, with all his errors. (By himself he
# aims an inch under, for higher balls, and that costs him whiffs: his own shares are not in this table.)

# %%
from hitlab.physics import aim_for_launch

margins = {}
for attack in (-10, 0, 6, 12, 16, 24):
    swing = Swing(attack_deg=attack, faces_deg=HITTER.faces_deg)
    aim = aim_for_launch(15, swing=swing)
    margins[attack] = swing_margin(
        swing=swing, scatter=SCATTER, aim_in=aim, swings=10_000
    )
shares = pd.DataFrame({f"{at} deg": one.shares for at, one in margins.items()})
shares.map(lambda share: f"{100 * share:.1f} %")

# %% tags=["asserted"]
whiffs = {at: one.shares["whiff"] for at, one in margins.items()}
homers = {at: one.shares["home run"] for at, one in margins.items()}
assert min(whiffs, key=whiffs.get) == 6
assert min(whiffs[-10], whiffs[24]) > 1.7 * whiffs[6]
assert max(homers, key=homers.get) == 16
assert homers[16] > 1.5 * homers[6]

# %% [markdown]
# In line with the pitch he misses least: the bat stays in the ball's path for longer, and a little early or a little
# late it is still at the ball's height. A chop or a steep uppercut crosses that path and is above or below it a moment
# later.
#
# For home runs it is not the best. In this model some ten degrees steeper hits most of them, at the price of more whiffs;
# steeper still adds whiffs and no home runs. (Print says so, too: in line with the
# pitch for hits, steeper for home runs, Nathan 2015, as quoted.)

# %% [markdown] tags=["slide"]
# # In line with the pitch he misses least
#
# The bat stays in the ball's path for longer. Ten degrees steeper: more home runs, and more whiffs.

# %% [markdown] tags=["sitting"]
# **A good place to stop.** What you have done is kept. Next come a map of all swings, the exercises, and where the claim
# ends.

# %% [markdown]
# ## Move it
#
# A map of all swings: from bottom to top ever steeper, from left to right ever farther under the ball. Colours say what
# becomes of them. The cross is our hitter.
#
# On the map every swing is on time, or late by what the slider says. In the table above the timing wandered. So on the
# map at 0 a steep swing whiffs no more often than another; it does once the rows slide. Move his timing from early to
# late, and watch which rows those are. (Click the slider, then use the arrow keys.)


# %%
def outcomes_at(timing):
    return plots.margin_map(
        HITTER, scatter=SCATTER, aim_in=AIM_IN, timing_error_ms=timing
    )


# %% tags=["slider"]
move_it(outcomes_at, "timing, ms late", range(-16, 17, 4), start=0)

# %% [markdown] tags=["slide"]
# # Late or early, steep rows slide
#
# On time, every angle has room. Ten milliseconds late, the uppercut is under the ball and the chop over it.
#
# picture: above

# %% tags=["asserted"]
late = np.array([-10.0, 0.0, 10.0])
shift = {}
for attack in (-10, 6, 24):
    passes = swing_outcomes(0.4, late, attack, swing=HITTER).offset_in
    shift[attack] = passes[1] - passes[0]
assert abs(shift[6]) < 0.5
assert shift[-10] < -1.5
assert shift[24] > 1.5

# %% [markdown]
# At the height of the pitch's own angle the map hardly moves. Above and below it, the picture slides: the steep swings
# go over the ball when early and under it when late, the chops the other way round.
#
# And how much hangs on the scatter that we assumed? Move the scatter of his aim:


# %%
def shares_at(aim):
    one = Scatter(aim, SCATTER.timing_ms, SCATTER.attack_deg, SCATTER.sideways_in)
    return plots.margin_shares(
        swing_margin(swing=HITTER, scatter=one, aim_in=AIM_IN, swings=4000)
    )


# %% tags=["slider"]
move_it(shares_at, "scatter of the aim, in", [0.25, 0.5, 1.0, 1.5, 2.0], start=1.5)

# %% [markdown]
# ## Exercises
#
# Put your answer in place of the dots and run the cell. You may try as often as you like.
#
# Stuck? Type `hint("06.quarter-inch")` (or another name) in the cell, once or twice. After that,
# `solution("06.quarter-inch")` tells all.

# %% [markdown] tags=["exercise"]
# ### Out of what? (denominator, core, 2 min)
#
# A coach wants to know which swing to teach for home runs. "Each time he swings," she says, "how often does it go out?"
# She should count home runs

# %% tags=["choices"]
choose("06.out-of-what")

# %% tags=["answer"]
answer = ...
check("06.out-of-what", answer)

# %% tags=["solution"]
answer = "per swing"
check("06.out-of-what", answer)

# %% [markdown] tags=["exercise"]
# ### A quarter of an inch (compute, core, 5 min)
#
# By how many degrees would he have to change his **swing** to get what a quarter of an inch lower brings? Use the step
# from 0.275 to 0.525 inches under with our hitter's swing, and `per_degree`, worked out below.

# %%
hits = swing_outcomes(0.4, attack_deg=np.array([3.0, 13.0]), swing=HITTER)
per_degree = (hits.launch_deg[1] - hits.launch_deg[0]) / 10
before, after = swing_outcomes(np.array([0.275, 0.525]), swing=HITTER).launch_deg
print(f"one degree of swing: {per_degree:.2f} degrees of launch")
print(f"launch at 0.275 in under: {before:.1f}, at 0.525: {after:.1f} degrees")

# %% tags=["answer"]
answer = ...
check("06.quarter-inch", answer)

# %% tags=["solution"]
answer = (after - before) / per_degree
check("06.quarter-inch", answer)

# %% [markdown] tags=["exercise"]
# ### Explained by what? (complete, core, 5 min)
#
# The first two lines that `hold_still` gave, by hand. A table has a row for each ball that was touched, with the columns
# `launch` and `attack` (degrees), `offset` (inches) and `fair` (true or false). How much of the variance of the launch
# angle does each explain, for fair balls? A share explained is a correlation, squared. Fill the four gaps.


# %% tags=["answer"]
def explained(table):
    fair = table[...]
    by_place = fair["launch"].corr(...)
    by_angle = ...
    return by_place ** ..., by_angle**2


check("06.explained", explained)


# %% tags=["solution"]
def explained(table):
    fair = table[table["fair"]]
    by_place = fair["launch"].corr(fair["offset"])
    by_angle = fair["launch"].corr(fair["attack"])
    return by_place**2, by_angle**2


check("06.explained", explained)

# %% [markdown] tags=["exercise"]
# ### Times as many (compute, optional, 4 min)
#
# Per swing, how many times as many home runs does the swing at 16 degrees hit as the one in line with the pitch (6)? The
# shares are in `margins` (see "Simulate").

# %% tags=["answer"]
answer = ...
check("06.times-as-many", answer)

# %% tags=["solution"]
answer = margins[16].shares["home run"] / margins[6].shares["home run"]
check("06.times-as-many", answer)

# %% [markdown] tags=["exercise"]
# ### Steeper than the rest (fault, core, 4 min)
#
# From a magazine: *"We averaged 200 hitters. Those with steeper swings have higher average launch angles; the
# correlation is 0.6. So swing five degrees steeper, and your launch angle will rise to match."* What is the fault?

# %% tags=["choices"]
choose("06.steeper-than-the-rest")

# %% tags=["answer"]
answer = ...
check("06.steeper-than-the-rest", answer)

# %% tags=["solution"]
answer = (
    "it compares hitters with one another, and the advice is for one hitter "
    "who changes his swing"
)
check("06.steeper-than-the-rest", answer)

# %% [markdown] tags=["exercise"]
# ### Bus and walk (transfer, core, 4 min)
#
# Mona's way to work is a bus and a walk. From day to day the bus time spreads by 8 minutes, the walk by 2 (standard
# deviations; one has nothing to do with the other). What share of the variance of the whole is the walk's?

# %% tags=["answer"]
answer = ...
check("06.bus-and-walk", answer)

# %% tags=["solution"]
answer = 2**2 / (8**2 + 2**2)
check("06.bus-and-walk", answer)

# %% [markdown] tags=["exercise"]
# ### Five degrees more (fault, core, 4 min)
#
# A coach has a hitter swing steeper for two weeks. *"His 40 fair balls before came off at 12 degrees on average, his 40
# since at 17. It works!"* From ball to ball his launch angles have a standard deviation of 27 degrees.
#
# Luck moves an average of n balls by about the standard deviation over the square root of n, and the difference of two
# such averages by the square root of 2 times that. A difference of up to **about twice what luck moves it by** is *within
# the noise*: luck makes a larger one only once in some twenty times. Is this one within the noise?

# %% tags=["choices"]
choose("06.within-the-noise")

# %% tags=["answer"]
answer = ...
check("06.within-the-noise", answer)

# %% tags=["solution"]
answer = "within it: luck alone moves such a difference by about six degrees"
check("06.within-the-noise", answer)

# %% [markdown]
# ## Where this breaks
#
# **Between hitters it is another story.** That is the first limit of the claim. Over a season the misses of the aim
# average out; the swing's angle does not. Suppose that one hitter aims a tenth of an inch lower than another, on
# average. How much steeper would he have to swing, on average, to raise his balls as much?

# %%
from hitlab.physics import angle_overtakes

degrees = float(angle_overtakes(0.1, within=SCATTER, swing=HITTER, aim_in=AIM_IN))
print(f"average aims 0.1 in apart weigh as much as {degrees:.1f} degrees of swing")

# %% tags=["asserted"]
assert 1 < degrees < 1.5

# %% [markdown]
# Little more than one degree. Whether hitters' average aims differ by a tenth of an inch or by more, nobody has
# published as far as we know. So a list of hitters by attack angle may well look like a list by launch angle. The booth
# is right about the next swing, and whether it is right about the next hitter is open.
#
# **At other pitches.** That is the second limit. A low pitch and a high one, one that curves and a fast one ask for
# other swings; how much of his launch angles that explains, this lesson did not look at.

# %% [markdown] tags=["slide"]
# # Between hitters it is open
#
# Aims average out over a season, swings do not. A tenth of an inch of average aim weighs as much as about one degree
# of average swing.

# %% [markdown]
# **The barrel droops.** By how much, we took from softball. With a level bat the model is simpler, and says the aim is
# nearly all:

# %%
for droop in (0, 15, 30, 40):
    swing = Swing(attack_deg=8, faces_deg=10, droop_deg=droop)
    one = hold_still(SCATTER, swing=swing, aim_in=AIM_IN, swings=many)
    place, angle, aim = one.offset_share, one.attack_share, one.goes["miss"]
    assert place > 5 * angle
    print(
        f"droop {droop:2}: place explains {percent(place)}, "
        f"angle {percent(angle)}; with the aim goes {percent(aim)}"
    )

# %% [markdown]
# **The grip.** A ball that rolled off the bat, as older work assumed, would leave steeper and with less spin:

# %%
grips = {"rolls": 0.0, "springs, .30": 0.3, "springs, .405": 0.405}
for name, springing in grips.items():
    swing = Swing(attack_deg=8, tangential_restitution=springing)
    ball = swing_outcomes(0.75, swing=swing)
    print(
        f"{name:14} {float(ball.launch_deg):.1f} degrees, "
        f"{float(ball.backspin_rpm):,.0f} rpm of backspin"
    )

# %% tags=["asserted"]
rolls, springs = (
    swing_outcomes(0.75, swing=Swing(attack_deg=8, tangential_restitution=springing))
    for springing in (0.0, 0.3)
)
assert rolls.launch_deg > springs.launch_deg + 1
assert rolls.backspin_rpm < springs.backspin_rpm - 500
assert 0.30 <= Swing().tangential_restitution <= 0.405

# %% [markdown]
# **What this model leaves out.** But for one trial above, the errors have nothing to do with one another; a real hitter who
# is fooled is off in all of them. The hitter does not adjust to the pitch on its way, nor save a bad swing. The grip was measured at lower speeds
# than those of a game.

# %% [markdown]
# **If you try it with a real bat:** look around before you swing, wear a helmet, keep others well away, and use only
# bats that carry the mark your league asks for, unaltered. Machines and cages are for those whom the facility's staff
# have shown how. Stop when something hurts; pain is a matter for licensed medical or athletic-training staff. Local rules
# come first.

# %% [markdown]
# ## Your verdict again
#
# The claim: from one swing of a hitter to his next, at the same pitch, the place where bat and ball meet tells more of
# the launch angle than how steeply the bat climbs. Your verdict, and how sure you are now?

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("06", "after", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "holds"
sure = 0.9
confidence("06", "after", verdict, sure)

# %% [markdown] tags=["exercise"]
# ### Ready for air (say, core, 4 min)
#
# One sentence ready for air, in your own words, between the quotation marks. You are the hitter's coach, and the booth
# asks why one ball flew and the next popped up. It is held against a list: what, by what, against what, among what, how
# sure, and no more than was shown. Run the cell with the dots to read the list.

# %% tags=["answer"]
answer = "..."
check("06.for-air", answer)

# %% tags=["solution"]
answer = (
    "From one swing of a hitter to his next, a quarter of an inch lower on the "
    "ball does as much to its launch angle as seven degrees more swing, in a "
    "model of bat and ball"
)
check("06.for-air", answer)

# %% tags=["asserted"]
assert round((after - before) / per_degree) == 7

# %% [markdown]
# ## We learned
#
# 1. A tenth of an inch is two degrees of launch. Half an inch is a grounder or a liner.
# 2. Hold one source still, and see what share of the variance goes. From swing to swing of one hitter the place of contact
#    tells most of the launch angle, and the swing's own angle far less, in this model and over all scatter that we tried.
#    Between hitters it is open.
# 3. In line with the pitch, errors of timing are forgiven and whiffs are fewest; somewhat steeper hits more home runs.
#
# **The bigger picture.** What differs most explains most. Before you credit a cause, ask how much it varies.

# %%
progress("06")

# %% [markdown] tags=["slide"]
# # What differs most explains most
#
# Before you credit a cause, ask how much it varies.

# %% [markdown] tags=["plan"]
# ### Minutes
#
# - 0-12: review, the claim read aloud, everybody's verdict written down
# - 12-20: the two circles by hand, ball and can, then the picture; predict before the table
# - 20-32: the table and the curve; then the swing's own angle, one degree and what it brings
# - 32-50: four errors; hold one still, by hand in pairs, then `hold_still`
# - 50-61: twelve other hitters; what a swing's angle is good for; stop
# - 61-69: the map, timing from early to late; which rows slide?
# - 69-95: Exercises, with the three votes
# - 95-105: one hitter against many hitters, the sentence, the verdict again
#
# ### On the board
#
# - two circles, the line through their middles, the ball's way out
# - 0.1 inch = 2 degrees; 1 degree of swing = 0.8
# - share gone = 1 - variance left / variance of all
# - four errors -> one place -> one launch angle
# - one hitter, swing to swing: place | many hitters: open
# - in line with the pitch: fewest whiffs
#
# ### Votes
#
# - 06.out-of-what
# - 06.steeper-than-the-rest
# - 06.within-the-noise
#
# ### What to cut
#
# In 30 minutes: the two circles and the prediction (8), the four errors with `hold_still` as it stands, without the
# hand-made one (8), the votes on the study and on the noise (8), the sentence (6). Leave out the twelve hitters and
# both sliders. With balls and a can instead of computers: roll one against the other at three heights, and let the
# class say where it goes.
