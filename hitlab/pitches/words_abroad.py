"""Words of charts in German, Spanish and Japanese, from memory: only what can be meant in one way.

They serve drafts alone. Whoever charts in another language names the columns in a mapping, and its words are
drafted for him to explain.
"""

from __future__ import annotations

__all__ = ["HEADINGS_ABROAD", "OTHERS_ABROAD", "WORDS_ABROAD"]

HEADINGS_ABROAD: dict[str, tuple[str, ...]] = {
    "date": ("datum", "fecha", "日付", "日", "試合日"),
    "game": ("spiel", "juego", "partido", "試合"),
    "hitter": ("schlagmann", "schlagfrau", "bateador", "bateadora", "打者", "打者名"),
    "pitcher": ("werfer", "werferin", "lanzador", "lanzadora", "投手", "投手名"),
    "club": ("mannschaft", "verein", "equipo", "チーム", "球団"),
    "plate_appearance": ("打席",),
    "inning": ("entrada", "回", "イニング"),
    "outs": ("アウト", "アウトカウント"),
    "bases": ("läufer", "corredores", "走者", "ランナー"),
    "balls": ("bolas", "ボール"),
    "strikes": ("ストライク",),
    "pitch_kind": ("wurfart", "tipo de lanzamiento", "lanzamiento", "球種"),
    "speed_mph": ("tempo", "geschwindigkeit", "velocidad", "球速"),
    "exit_mph": ("velocidad de salida", "打球速度"),
    "launch_deg": ("abflugwinkel", "ángulo de salida", "打球角度"),
    "outcome": ("ergebnis", "resultado", "結果", "投球結果"),
    "result": ("ausgang", "打席結果"),
    "clip": ("動画",),
}
"""As :data:`hitlab.pitches.heading_words.HEADINGS`."""

WORDS_ABROAD: dict[str, tuple[str, ...]] = {
    "ball": ("bola", "ボール"),
    "called strike": (
        "strike cantado",
        "strike angesehen",
        "見逃し",
        "見逃しストライク",
        "見逃しのストライク",
    ),
    "whiff": (
        *(
            "strike tirándole",
            "strike tirandole",
            "strike abanicado",
            "schwung daneben",
            "daneben geschwungen",
        ),
        *("空振り", "空振りストライク"),
    ),
    "foul": ("faul", "ファウル", "ファール"),
    "foul tip": ("faul tip", "ファウルチップ", "ファールチップ"),
    "whiff, strikeout": ("ponche tirándole", "空振り三振", "空三振"),
    "called strike, strikeout": ("ponche cantado", "見逃し三振", "見三振"),
    "walk": ("base por bolas", "四球", "フォアボール"),
    "intentional ball, walk": ("base intencional", "故意四球", "申告敬遠"),
    "intentional ball": ("bola intencional",),
    "hit by pitch": ("golpeado", "golpe", "死球", "デッドボール"),
    "single": ("sencillo", "単打"),
    "double": ("doble", "二塁打"),
    "triple": ("三塁打",),
    "home run": ("jonrón", "jonron", "cuadrangular", "本塁打", "ホームラン"),
    "out": ("aus", "アウト", "凡打"),
    "double play": ("doppelspiel", "doble play", "doble matanza", "併殺", "併殺打"),
    "fielder's choice": ("野選", "野手選択"),
    "error": ("fehler", "失策", "エラー"),
    "sacrifice fly": ("elevado de sacrificio", "fly de sacrificio", "犠飛", "犠牲フライ"),
    "sacrifice bunt, bunt": ("toque de sacrificio", "犠打", "送りバント"),
    "in play": ("im spiel", "en juego", "インプレー"),
}
"""As :data:`hitlab.pitches.chart_words.WORDS`."""

_ENDINGS = (
    *("walk", "hit by pitch", "single", "double", "triple", "home run", "out", "double play", "error"),
    *("fielder's choice", "sacrifice fly"),
)

OTHERS_ABROAD: dict[str, dict[str, tuple[str, ...]]] = {
    "result": {
        "strikeout": ("ponche", "三振", *WORDS_ABROAD["whiff, strikeout"]),
        "sacrifice bunt": WORDS_ABROAD["sacrifice bunt, bunt"],
        **{word: WORDS_ABROAD[word] for word in _ENDINGS},
    },
    "pitch_kind": {
        "fastball": ("recta", "rápida", "直球", "ストレート"),
        "curveball": ("curva", "カーブ"),
        "slider": ("スライダー",),
        "changeup": ("cambio", "cambio de velocidad", "チェンジアップ"),
        "splitter": ("フォーク", "スプリット"),
        "cutter": ("cortada", "カット", "カットボール"),
        "sinker": ("シンカー", "ツーシーム"),
        "knuckleball": ("nudillos", "ナックル"),
    },
    "half": {"top": ("alta", "表"), "bottom": ("baja", "裏")},
}
"""As :data:`hitlab.pitches.chart_words.OTHERS`."""
