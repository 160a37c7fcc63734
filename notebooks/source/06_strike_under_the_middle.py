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
from hitlab.exercises import check, confidence, hint, progress, solution
from hitlab.exercises.sliders import move_it
from hitlab.physics import (
    Scatter,
    Swing,
    aim_for_launch,
    launch_shares,
    swing_margin,
    swing_outcomes,
)
from hitlab.wording import percent

# %% [markdown]
# ## The claim
#
# After a home run, from the booth:
#
# > "See that? He swings up at the ball. It goes where the bat goes. Teach the kids to swing up!"
#
# It sounds like geometry: the steeper the bat climbs, the steeper the ball. We turn it into something that can be
# checked: *from one swing of a hitter to his next, the angle of the swing decides the launch angle more than the place
# where bat and ball meet.*

# %% [markdown]
# ## Three goals
#
# After this lesson you can
#
# 1. say what a tenth of an inch does to a batted ball;
# 2. say how much of the spread in launch angle is the swing's own angle, and for whom;
# 3. explain what a swing in line with the pitch is good for.

# %% [markdown]
# ## What you need
#
# Nothing but this notebook. The numbers come from a model: two round things that collide, with published measurements
# behind it. Its people are averages, not persons.
#
# Core: about 45 minutes. Optional: about 10 minutes.
#
# You may move on when the core exercises say *right*. If time is short, leave out "Simulate" down to the three swings.

# %% [markdown]
# ## Your verdict first
#
# From one swing to the next of the same hitter: does the angle of the swing decide the launch angle more than the place
# of contact does? Say `"holds"`, `"does not hold"` or `"open"`, and how sure you are, from 1/3 (a blind guess) to 1.

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("06", "before", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "holds"
sure = 0.6
confidence("06", "before", verdict, sure)

# %% [markdown]
# ## New words
#
# - **launch angle**: how steeply the ball leaves the bat; 0 is level, 90 straight up. We call 10 to 25 degrees a
#   liner (common practice, no source).
# - **attack angle**: how steeply the bat travels upward when it meets the ball.
# - **descent**: how steeply the pitch comes down. A fastball comes down at about 6 degrees (Nathan
#   2015, from memory).
# - **offset**: how far the middle of the bat passes under the middle of the ball, in inches. Negative: over it.
# - **in line with the pitch**: an attack angle as large as the descent, so that the bat comes back up the pitch's path.

# %% [markdown]
# ## Look
#
# A pitch comes down at 6 degrees. The bat goes up at 6 degrees: straight back along the pitch's path. The middle of the
# bat passes four tenths of an inch under the middle of the ball.

# %%
level = Swing(attack_deg=6)
plots.show(plots.collision_side_view(85, 6, 70, 6, 0.4))  # speeds and angles

# %% [markdown]
# The ball does not leave along the bat's path. It leaves close to the line through the two middles, because a round bat
# pushes a round ball away from its own middle. Strike lower, and that line tips up.
#
# How much? One row for each offset, the same swing every time:

# %%
offsets = np.array([-0.5, -0.25, 0.0, 0.25, 0.5, 0.75, 1.0])
hits = swing_outcomes(offsets, swing=level)
table = {
    "offset, in": offsets,
    "launch, deg": hits.launch_deg,
    "exit, mph": hits.exit_mph,
}
pd.DataFrame(table).round({"launch, deg": 0, "exit, mph": 0})

# %% tags=["asserted"]
steps = np.diff(hits.launch_deg)
assert ((steps > 7) & (steps < 9)).all()
assert hits.launch_deg[0] < -10
assert hits.launch_deg[-1] > 30

# %% [markdown]
# Every quarter of an inch (6 millimetres) brings seven to nine degrees. From half an inch over the middle to an inch
# under it, the same swing makes a ground ball, a liner and a high fly. A ball is less than three inches thick.

# %%
plots.show(plots.launch_against_offset(level))

# %% [markdown]
# Now the other way round. The offset stays at four tenths of an inch, and the swing changes:

# %%
attacks = np.array([1.0, 6.0, 11.0])
hits = swing_outcomes(0.4, attack_deg=attacks)
table = {
    "attack, deg": attacks,
    "launch, deg": hits.launch_deg,
    "exit, mph": hits.exit_mph,
}
pd.DataFrame(table).round({"launch, deg": 1, "exit, mph": 0})

# %% tags=["asserted"]
per_degree = (hits.launch_deg[2] - hits.launch_deg[0]) / 10
assert 0.7 < per_degree < 0.9

# %% [markdown]
# Five degrees more swing bring about four degrees more launch. So the swing's angle does count, ball for ball. The
# question is which of the two *differs* more from swing to swing.

# %% [markdown]
# ## Simulate
#
# One hitter, many swings at the same pitch. From swing to swing three things differ:
#
# - his **aim** misses by about an inch up or down,
# - his **timing** is off by about ten milliseconds, early or late,
# - his **swing** is steeper or flatter by about three degrees.
#
# ("About" means a standard deviation: two swings in three lie within it.) We found no published figures for these
# three; they are our guess, and you may change them below.

# %%
rng = np.random.default_rng(6)
many = 20_000
steady = {"aim": aim_for_launch(15, swing=level), "timing": 0.0, "swing": 6.0}
differing = {
    "aim": steady["aim"] + rng.normal(0, 1.0, many),
    "timing": rng.normal(0, 10.0, many),
    "swing": 6.0 + rng.normal(0, 3.0, many),
}


# %% [markdown]
# Let all three differ. Then hold one of them still and look at how much the launch angles of his fair balls still
# spread.


# %%
def spread(**held):
    now = differing | held
    hits = swing_outcomes(now["aim"], now["timing"], now["swing"])
    return hits.launch_deg[hits.outcome >= 2].std()  # fair balls


left = {"nothing": spread()}
left |= {what: spread(**{what: value}) for what, value in steady.items()}
for what, degrees in left.items():
    print(f"{what:8} held still: launch angles spread by {degrees:4.1f} degrees")

# %% tags=["asserted"]
assert left["aim"] < left["nothing"] / 2.5
assert abs(left["swing"] - left["nothing"]) < 0.05 * left["nothing"]
assert left["nothing"] < left["timing"] < 1.15 * left["nothing"]

# %% [markdown]
# Hold the swing's angle still, and hardly anything changes. Hold the aim still, and most of the spread is gone.
#
# (Hold the timing still, and the spread even grows a little: on time, the balls struck far off-centre stay fair and
# count.)
#
# Why then do coaches talk about the swing at all? Because it decides how much error is forgiven. Take three hitters with
# the same skill, each aiming for the same launch angle of 15 degrees:

# %%
margins = {}
for name, attack in {"chop": -10, "level with the pitch": 6, "uppercut": 24}.items():
    swing = Swing(attack_deg=attack)
    aim = aim_for_launch(15, swing=swing)
    margins[name] = swing_margin(swing=swing, aim_in=aim, swings=20_000)
shares = pd.DataFrame({name: margin.shares for name, margin in margins.items()})
shares.map(lambda share: f"{100 * share:.1f} %")

# %% tags=["asserted"]
whiffs, homers = shares.loc["whiff"], shares.loc["home run"]
assert (
    whiffs["level with the pitch"]
    < 0.05
    < 0.2
    < min(whiffs["chop"], whiffs["uppercut"])
)
assert homers["level with the pitch"] > 1.5 * homers["uppercut"] > homers["chop"]

# %% [markdown]
# Same skill, same aim. The chop and the uppercut miss about ten times as often as the swing in line with the pitch, and
# it hits the most home runs too. It stays in the pitch's path for longer: a little early or a little late, the bat is
# still at the ball's height. The other two cross that path and are above or below it a moment later.

# %% [markdown]
# ## Move it
#
# A map of all swings: from bottom to top ever steeper, from left to right ever farther under the ball. Colours say what
# becomes of them. The cross is our hitter, in line with the pitch. Move his timing from early to late, and watch which
# rows of the map shift. (Click the slider, then use the arrow keys.)


# %%
def outcomes_at(timing):
    aim = aim_for_launch(15, swing=level)
    return plots.margin_map(level, aim_in=aim, timing_error_ms=timing)


# %% tags=["slider"]
move_it(outcomes_at, "timing, ms late", range(-16, 17, 4), start=0)

# %% tags=["asserted"]
late = np.array([-10.0, 0.0, 10.0])
for attack, sign in {6: 0, 24: 1, -10: -1}.items():
    passes = swing_outcomes(0.4, late, attack).offset_in
    shift = passes[2] - passes[0]
    assert abs(shift) < 0.05 if sign == 0 else np.sign(shift) == sign

# %% [markdown]
# At the height of the pitch's own angle the map stays where it is. Above and below it, the picture slides: the steep swings
# go over the ball when early and under it when late, the chops the other way round.

# %% [markdown]
# ## Exercises
#
# Put your answer in place of the dots and run the cell. You may try as often as you like.
#
# Stuck? Type `hint("06.quarter-inch")` (or another name) in the cell, once or twice. After that,
# `solution("06.quarter-inch")` tells all.

# %% [markdown] tags=["exercise"]
# ### A tenth of an inch (predict, core, 3 min)
#
# The hitter strikes the ball a tenth of an inch (2.5 millimetres) lower than before. By how many degrees does the launch
# angle rise? Give a low and a high end, at most 1.5 apart.

# %% tags=["answer"]
answer = ...
check("06.tenth-of-an-inch", answer)

# %% tags=["solution"]
low, high = swing_outcomes(np.array([0.35, 0.45]), swing=level).launch_deg
answer = high - low - 0.3, high - low + 0.3
check("06.tenth-of-an-inch", answer)

# %% [markdown] tags=["exercise"]
# ### Out of what? (denominator, core, 2 min)
#
# A coach wants to know which swing to teach for home runs. "Each time he swings," she says, "how often does it go out?"
# She should count home runs
#
# - `"a"` per fly ball
# - `"b"` per swing
# - `"c"` per ball in play
# - `"d"` per home-run trot

# %% tags=["answer"]
answer = ...
check("06.out-of-what", answer)

# %% tags=["solution"]
answer = "b"
check("06.out-of-what", answer)

# %% [markdown] tags=["exercise"]
# ### A quarter of an inch (compute, core, 5 min)
#
# By how many degrees would he have to change his **swing** to get what a quarter of an inch of **offset** brings? Use
# the step from an offset of 0.275 to 0.525 in with the level swing, and `per_degree`, worked out below.

# %%
hits = swing_outcomes(0.4, attack_deg=np.array([1.0, 11.0]))
per_degree = (hits.launch_deg[1] - hits.launch_deg[0]) / 10
before, after = swing_outcomes(np.array([0.275, 0.525]), swing=level).launch_deg
print(f"one degree of swing: {per_degree:.2f} degrees of launch")
print(f"launch at 0.275 in: {before:.1f}, at 0.525 in: {after:.1f} degrees")

# %% tags=["answer"]
answer = ...
check("06.quarter-inch", answer)

# %% tags=["solution"]
answer = (after - before) / per_degree
check("06.quarter-inch", answer)

# %% [markdown] tags=["exercise"]
# ### Times as many (compute, core, 4 min)
#
# Per swing, how many times as many home runs does the swing in line with the pitch hit as the uppercut? The shares are in
# `margins` (see "Simulate").

# %% tags=["answer"]
answer = ...
check("06.times-as-many", answer)

# %% tags=["solution"]
per_swing = {name: margin.shares["home run"] for name, margin in margins.items()}
answer = per_swing["level with the pitch"] / per_swing["uppercut"]
check("06.times-as-many", answer)

# %% [markdown] tags=["exercise"]
# ### Steeper than the rest (fault, core, 4 min)
#
# From a magazine: *"We averaged 200 hitters. Those with steeper swings have higher average launch angles; the
# correlation is 0.6. So swing five degrees steeper, and your launch angle will rise to match."* What is the fault?
#
# - `"a"` the correlation is too small to count
# - `"b"` it compares hitters with each other; it does not say what one hitter gets from a new swing
# - `"c"` launch angles cannot be averaged
# - `"d"` nothing: five degrees more swing is five degrees more launch

# %% tags=["answer"]
answer = ...
check("06.steeper-than-the-rest", answer)

# %% tags=["solution"]
answer = "b"
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
# ### The share of the aim (compute, optional, 3 min)
#
# `launch_shares(aim, timing, swing)` takes the three spreads and shares out the variance of the launch angle. For this
# lesson's hitter (1 in, 10 ms, 3 degrees): what share would go if only the aim did not spread (with all that it does
# jointly with the others)?

# %% tags=["answer"]
answer = ...
check("06.share-of-the-aim", answer)

# %% tags=["solution"]
answer = launch_shares(1.0, 10.0, 3.0).miss_total_share
check("06.share-of-the-aim", answer)

# %% [markdown]
# ## Where this breaks
#
# **Between hitters it is another story.** Over a season the misses of the aim average out; the swing's angle does not.
# Suppose that the *average* aims of hitters differ by a tenth of an inch. How much may their average attack angles
# differ before these explain more of the difference in average launch angles?

# %%
from hitlab.physics import angle_overtakes

degrees = float(angle_overtakes(0.1, within=Scatter()))
print(f"average aims 0.1 in apart weigh as much as {degrees:.1f} degrees of swing")

# %% tags=["asserted"]
assert 3 < degrees < 5.5
between = launch_shares(0.1, 0.0, 4.0, within=Scatter())
assert 0.4 < float(between.angle_share) < 0.6

# %% [markdown]
# About four degrees. Hitters do differ by that much. So a list of hitters by attack angle can well look like a list by
# launch angle, and the booth can be right *between* hitters while it is wrong about the next swing.

# %% [markdown]
# **A hitter whose swing wanders more.** With three degrees the swing's angle hardly counts. With more, it and the timing
# together count for more:

# %%
for degrees in (3.0, 6.0, 12.0):
    found = launch_shares(1.0, 10.0, degrees)
    aim, swing = float(found.miss_total_share), float(found.angle_total_share)
    print(
        f"swing spreads by {degrees:4.1f}: aim {percent(aim)}, swing {percent(swing)}"
    )

# %% tags=["asserted"]
assert launch_shares(1.0, 10.0, 3.0).angle_share < 0.02
assert launch_shares(1.0, 10.0, 12.0).angle_total_share > 0.4

# %% [markdown]
# (The shares add up to more than the whole, because what two of them do jointly is counted with both.)
#
# **What this model leaves out.** Aim, timing and angle scatter independently here; a real hitter who is fooled is off in
# all three. The bat is a round bar that hits with one good spot. The hitter does not adjust to the pitch on its way.
# And for home runs alone, with perfect timing, a swing steeper than the pitch is best; the disagreement in print is about
# which errors are allowed.

# %% [markdown]
# **If you try it with a real bat:** look around before you swing, wear a helmet, keep others well away, and use only
# bats that carry the mark your league asks for, unaltered. Machines and cages are for those whom the facility's staff
# have shown how. Stop when something hurts; pain is a matter for licensed medical or athletic-training staff. Local rules
# come first.

# %% [markdown]
# ## Your verdict again
#
# The claim: from one swing of a hitter to his next, the swing's angle decides the launch angle more than the place of
# contact. Your verdict, and how sure you are now?

# %% tags=["answer", "confidence"]
verdict = ...
sure = ...
confidence("06", "after", verdict, sure)

# %% tags=["solution", "confidence"]
verdict = "does not hold"
sure = 0.95
confidence("06", "after", verdict, sure)

# %% [markdown]
# Now one sentence ready for air. Here is ours: *"He was in line with the pitch and caught it a shade under the middle;
# that, more than swinging up, is why it left."*

# %% tags=["asserted"]
found = launch_shares(1.0, 10.0, 3.0)
assert found.miss_total_share > 5 * found.angle_total_share

# %% [markdown]
# ## We learned
#
# 1. A tenth of an inch is three degrees of launch. Half an inch is a grounder or a fly ball.
# 2. From swing to swing of one hitter, the swing's own angle explains next to nothing of the launch angle by itself;
#    between hitters it can explain half.
# 3. In line with the pitch, the bat stays in the ball's path, and errors of timing are forgiven.
#
# **The bigger picture.** What differs most explains most. Before you credit a cause, ask how much it varies.

# %%
progress("06")
