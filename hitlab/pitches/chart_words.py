"""The words of scorers' charts, from memory: what people write into columns.

What stands in these tables the trade writes in one way only; ``AMBIGUOUS`` lists what it does not.
"""

from __future__ import annotations

__all__ = [
    "AMBIGUOUS",
    "BLANK_OR_EMPTY",
    "HALVES",
    "KINDS",
    "NO_PITCH",
    "NUMBERS_ON_BASE",
    "OTHERS",
    "SHAPES",
    "TICKS",
    "WORDS",
]

WORDS: dict[str, tuple[str, ...]] = {
    "ball": ("ball", "b", "ball in dirt", "ball outside", "ball inside", "ball low", "ball high"),
    "called strike": (
        *("called strike", "strike looking", "looking", "called", "look", "strike called", "taken strike"),
        *("strike taken", "took strike", "sl", "looking strike", "caught looking strike"),
    ),
    "whiff": (
        *(
            "whiff",
            "swing and miss",
            "swinging strike",
            "strike swinging",
            "swing miss",
            "swing & miss",
            "miss",
        ),
        *("swung and missed", "swung through", "swung through it", "s&m", "sw miss", "swing-miss", "missed"),
    ),
    "foul": ("foul", "foul ball", "fouled off", "fouled", "foul off", "fl"),
    "foul, pull": ("foul pull", "pull foul", "foul pull side", "fouled pull"),
    "foul, opposite": ("foul oppo", "foul opposite", "oppo foul", "foul the other way", "foul opp"),
    "foul, straight back": ("foul back", "foul straight back", "straight back", "foul straight"),
    "foul tip": ("foul tip", "tip", "tipped", "tipped into the mitt"),
    "whiff, strikeout": (
        *(
            "k swing",
            "k swinging",
            "ks",
            "k-s",
            "strikeout swinging",
            "struck out swinging",
            "k sw",
            "swing k",
        ),
        *("so swinging", "swinging k", "k (swinging)", "k swg"),
    ),
    "called strike, strikeout": (
        *("k look", "k looking", "kl", "k-l", "strikeout looking", "struck out looking", "ꓘ", "backwards k"),
        *("kc", "backward k", "looking k", "so looking", "k (looking)", "caught looking", "called k"),
    ),
    "foul tip, strikeout": ("k foul tip", "strikeout foul tip", "k tip"),
    "walk": ("walk", "bb", "walked", "base on balls", "ball four", "ball 4"),
    "intentional ball, walk": ("ibb", "intentional walk"),
    "hit by pitch": ("hbp", "hit by pitch", "hb", "hit batter", "plunked", "hit by the pitch"),
    "single": ("single", "1b", "base hit", "one-base hit", "1 base hit", "singled"),
    "double": ("double", "2b", "two-base hit", "two bagger", "doubled"),
    "triple": ("triple", "3b", "three-base hit", "tripled"),
    "home run": ("home run", "hr", "homer", "homerun", "homered"),
    "out": (
        *("out", "go", "groundout", "ground out", "grounded out", "fo", "flyout", "fly out", "flied out"),
        *("lineout", "line out", "lined out", "popout", "pop out", "popped out", "popup out", "pop up out"),
    ),
    "double play": ("double play", "dp", "gidp", "gdp", "ground into double play"),
    "fielder's choice": ("fc", "fielders choice", "fielder's choice"),
    "error": ("error", "roe", "reached on error", "e"),
    "sacrifice fly": ("sf", "sac fly", "sacrifice fly"),
    "sacrifice bunt, bunt": ("sac bunt", "sacrifice bunt", "sh", "sac", "sac hit", "sacrifice hit"),
    "catcher's interference": ("ci", "catcher's interference", "catchers interference"),
    "in play": ("in play", "ip", "ball in play", "gb", "ground ball", "ld", "line drive", "fly ball", "fb"),
}
"""What the trade writes in one way only, from memory: what it tells -> the words."""

SHAPES: dict[str, str] = {
    **dict.fromkeys(
        ("#-#", "#-#-#", "f#", "l#", "p#", "fo#", "lo#", "po#", "#u", "fb#", "fb #", "f-#"), "out"
    ),
    **dict.fromkeys(
        ("gb #-#", "go #-#", "gb#-#", "gb #", "ground out #-#", "f #", "l #", "p #", "gb #u"), "out"
    ),
    **dict.fromkeys(("fly #", "line #", "pop #", "fly out #", "line out #", "pop out #", "ld #"), "out"),
    **dict.fromkeys(("e#", "e #", "e-#", "error #", "roe e#"), "error"),
    **dict.fromkeys(("#-#-# dp", "dp #-#-#", "gb #-#-# dp", "#-# dp", "gb #-# dp", "l#-# dp"), "double play"),
    **dict.fromkeys(("fc #-#", "fc#", "fc #", "gb fc #-#", "fc #-"), "fielder's choice"),
    **dict.fromkeys(("sf#", "sf #", "sac fly #", "f# sf", "sf-#"), "sacrifice fly"),
}
"""Fielders by their numbers, as scorers write them (numbers by the Official Rules, from memory)."""

KINDS: dict[str, tuple[str, ...]] = {
    "four-seam fastball": ("four-seam", "4-seam", "four seam", "4 seam", "four-seamer", "4s", "straight one"),
    "sinker": ("two-seam", "2-seam", "two seam", "2 seam", "2s", "sinking fastball"),
    "cutter": ("cut", "cut fastball"),
    "slider": ("slide", "sl"),
    "curveball": ("curve", "cb", "hook", "12-6"),
    "changeup": ("change", "change up", "change-up", "ch", "cu change"),
    "splitter": ("split", "split-finger"),
    "knuckleball": ("knuckle", "knuckler"),
    "fastball": ("fb", "f", "fast ball", "fast", "heater", "hard stuff"),
    "breaking": ("breaking ball", "breaking pitch", "breaker"),
    "offspeed": ("off-speed", "off speed", "offspeed pitch"),
}
_SIDES: dict[str, tuple[str, ...]] = {
    "left": ("l", "left", "lh", "lhh", "lefty", "lhp", "lhb"),
    "right": ("r", "right", "rh", "rhh", "righty", "rhp", "rhb"),
}
HALVES: dict[str, tuple[str, ...]] = {"top": ("t", "top", "up"), "bottom": ("b", "bot", "bottom", "btm")}
TICKS: dict[str, tuple[str, ...]] = {
    "true": ("x", "y", "yes", "✓", "✔", "1", "true", "*", "h", "hard"),
    "false": ("n", "no", "0", "false", "soft"),
}
_BASES: dict[str, tuple[str, ...]] = {
    "empty": ("empty", "bases empty", "none", "nobody", "nobody on", "---", "___", "0"),
    "first": ("1st", "1b", "first", "1--", "1__", "1"),
    "second": ("2nd", "2b", "second", "-2-", "_2_", "2"),
    "third": ("3rd", "3b", "third", "--3", "__3", "3"),
    "first second": (
        "12",
        "12-",
        "12_",
        "1-2",
        "1,2",
        "1 2",
        "1b 2b",
        "1st 2nd",
        "first and second",
        "1st & 2nd",
    ),
    "first third": ("13", "1-3", "1_3", "1,3", "1 3", "1b 3b", "1st 3rd", "first and third", "corners"),
    "second third": ("23", "-23", "_23", "2-3", "2,3", "2 3", "2b 3b", "2nd 3rd", "second and third"),
    "full": ("123", "1-2-3", "1,2,3", "1 2 3", "loaded", "bases loaded", "full"),
}
_ENDED: dict[str, tuple[str, ...]] = {
    "strikeout": (
        "k",
        "so",
        "strikeout",
        "struck out",
        "strike 3",
        "strike three",
        "dropped third strike",
        *WORDS["whiff, strikeout"],
        *WORDS["called strike, strikeout"],
    ),
    "sacrifice bunt": WORDS["sacrifice bunt, bunt"],
    "walk": (*WORDS["walk"], *WORDS["intentional ball, walk"]),
    **{
        word: WORDS[word]
        for word in (
            *("hit by pitch", "single", "double", "triple", "home run", "out", "error", "double play"),
            *("fielder's choice", "sacrifice fly", "catcher's interference"),
        )
    },
}
OTHERS: dict[str, dict[str, tuple[str, ...]]] = {
    "pitch_kind": KINDS,
    "bases": _BASES,
    "result": _ENDED,
    "hitter_side": _SIDES,
    "pitcher_hand": _SIDES,
    "half": HALVES,
    "hard": TICKS,
    "bunt": TICKS,
}
_HITS = ("h", "hit", "hits", "treffer", "imparable", "ヒット", "安打")
_HIT = "a single, double, triple or home run, or hit by pitch"
_K = "whiff, strikeout or called strike, strikeout"
_GROUND = "a ground ball or a ground out"
_FLY = "a fly ball, a fly out or a sacrifice fly"
_LINE = "a line drive or a line out"
_POP = "a ball popped up or a pop out"
_CAUGHT = "a foul, or an out on a ball caught in foul ground"
_SWING = "a whiff, a foul or a ball in play"
_BUNT = "a bunt in play, a foul bunt, a missed bunt or a sacrifice bunt"
_TAKE = "a ball or a called strike"
_SACRIFICE = "a sacrifice bunt or a sacrifice fly"
_ON = "a hit, an error, a fielder's choice, a walk or hit by pitch"
_ENDS_SO: dict[str, str] = {
    **dict.fromkeys(("ground", "grounder", "rodado", "rola", "rolata", "bodenball", "ゴロ"), _GROUND),
    **dict.fromkeys(("fly", "flyball", "flied", "elevado", "flugball", "フライ"), _FLY),
    **dict.fromkeys(("line", "liner", "lined", "línea", "linea", "ライナー"), _LINE),
    **dict.fromkeys(("pop", "popup", "pop up", "pop-up", "popped up"), _POP),
    **dict.fromkeys(("bunt", "bunted", "toque", "バント"), _BUNT),
    **dict.fromkeys(("foul bunt", "bunt foul", "bunted foul"), "a foul, bunt, with two strikes a strikeout"),
    **dict.fromkeys(("sacrifice", "sacrificio", "opfer"), _SACRIFICE),
    **dict.fromkeys(("reached", "reach", "safe", "on base"), _ON),
    **dict.fromkeys(("dead ball", "dead"), "hit by pitch or no pitch"),
    "home": "a home run, or a runner who came home",
    "interference": "catcher's interference, or that of another",
    "f": "a foul or a fly",
}
"""Of what became of a turn at bat."""

AMBIGUOUS: dict[str, dict[str, str]] = {
    "outcome": {
        **_ENDS_SO,
        **dict.fromkeys(_HITS, f"a ball in play, {_HIT}"),
        **dict.fromkeys(("k", "so", "strikeout", "struck out", "ponche", "三振"), _K),
        **dict.fromkeys(("strike 3", "strike three", "dropped third strike"), _K),
        **dict.fromkeys(("swing", "swung", "swings", "schwung", "swinging"), _SWING),
        **dict.fromkeys(("take", "takes", "no swing", "sin swing", "kein schwung"), _TAKE),
        **dict.fromkeys(("check swing", "checked", "checked swing"), "a ball, a called strike or a whiff"),
        **dict.fromkeys(("contact", "hard", "hard hit", "soft", "weak"), "a foul or a ball in play"),
        **dict.fromkeys(("pull", "oppo", "opposite", "opposite field"), "a foul or a ball in play"),
        **dict.fromkeys(("strike", "ストライク"), "called strike or whiff"),
        **dict.fromkeys(("fallo", "falló"), "a whiff or an error"),
        **dict.fromkeys(
            ("foul out", "fouled out", "popped foul", "foul pop", "foul fly", "pop foul"), _CAUGHT
        ),
        "missed bunt": "whiff, bunt; with two strikes whiff, strikeout, bunt",
        "s": "a called strike or a whiff",
        "ss": "a swinging strike or the shortstop",
        "cs": "a called strike or caught stealing",
    },
    "result": {
        **_ENDS_SO,
        **dict.fromkeys(_HITS, _HIT),
        **dict.fromkeys(("gb", "ground ball"), _GROUND),
        **dict.fromkeys(("fb", "fly ball"), _FLY),
        **dict.fromkeys(("ld", "line drive"), _LINE),
    },
    "pitch_kind": {
        "cu": "curveball or changeup",
        "c": "a curveball, a changeup or a cutter",
        "s": "a slider, a sinker or a splitter",
        "k": "a knuckleball or a knuckle curve",
    },
    "hitter_side": dict.fromkeys(
        ("s", "b", "sw", "switch", "both"), "a switch hitter, who stood left or right on each pitch"
    ),
}
"""By our column: word -> what it may mean there (from memory)."""

BLANK_OR_EMPTY = {"-": "empty or not known"}
"""What a dash alone can be where bases stand."""

NUMBERS_ON_BASE = {
    "1": "first or one runner",
    "2": "second or two runners",
    "3": "third or three runners",
}
"""What a digit alone can be, as long as no two stand together, as in 1-3."""

NO_PITCH = (
    *("balk", "balks", "pickoff", "pick-off", "pick off", "throw over", "steal", "stole", "stolen base"),
    *("caught stealing", "passed ball", "wild pitch", "wild", "time", "timeout", "time out", "mound visit"),
    *("visit", "warmup", "warm-up", "sub", "substitution", "pinch hitter", "pinch runner", "new pitcher"),
    *("pitching change", "appeal", "ejection", "delay", "rain"),
)
"""What scorers write between pitches: no pitch, however near to the word of one."""
