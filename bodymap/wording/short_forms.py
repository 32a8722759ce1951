"""Short forms of ordinary dictation written out: "decr.", "lat.", "UE", "5th MTPJ", "Lt"."""

import re

SHORT: dict[str, str] = {
    "lat": "lateral", "med": "medial", "ant": "anterior", "prox": "proximal", "decr": "decreased",
    "incr": "increased", "abs": "absent", "jt": "joint", "jts": "joints", "ue": "upper limb",
    "ues": "upper limbs", "le": "lower limb", "les": "lower limbs", "rue": "right upper limb",
    "lue": "left upper limb", "rle": "right lower limb", "lle": "left lower limb", "wnl": "normal",
    "anterolat": "anterolateral", "posterolat": "posterolateral", "anteromed": "anteromedial",
    "posteromed": "posteromedial",
}  # fmt: skip
"""Understood with a full stop behind them and without."""

DOTTED: dict[str, str] = {
    "post": "posterior", "dist": "distal", "sup": "superior", "inf": "inferior", "uln": "ulnar",
    "rad": "radial", "dors": "dorsal", "plant": "plantar", "dec": "decreased", "dim": "diminished",
    "inc": "increased", "norm": "normal", "sens": "sensation", "incl": "including",
    "exc": "except", "approx": "approx", "bilat": "bilat", "temp": "temp", "vib": "vib", "rt": "rt",
    "lt": "lt", "subj": "subj", "dig": "digits", "digs": "digits",
}  # fmt: skip
"""Understood with the full stop only, since without it they may be other words."""

_LAST = ("bilat", "jt", "jts", "norm", "abs", "rt", "lt")
"""Those that often end a sentence: their full stop ends it before a capitalised word."""

_JOINTS = {"metatarsophalangeal": "mtp", "metacarpophalangeal": "mcp",
           "proximal interphalangeal": "pip", "distal interphalangeal": "dip",
           "interphalangeal": "ip"}  # fmt: skip

_BODY = "thigh|calf|leg|arm|forearm|neck|ankle|knee|shoulder|scalp|trunk|upper|lower|aspect|surface"
_TEST_STANDS_BY = frozenset(
    {"reduced", "absent", "decreased", "decr", "diminished", "impaired", "normal", "intact", "lost",
     "increased", "loss", "and", "or", "to", "touch", "is", "was", "over", "in", "on", "at", "of",
     "sensation", "spared", "preserved", "pp", "pin", "pinprick", "vib", "vibration", "temp", "jps",
     "right", "left", "r", "l", "rt", "both", "bilat", "bilaterally", "for", "with", "but", "not"}
)  # fmt: skip
"""Words beside which "LT" is light touch and no side."""


def written_out(text: str) -> str:
    """A phrase in small letters with its short forms written out."""
    text = _left(text)
    last = "|".join(_LAST)
    # "absent bilat. Numb palm" are two sentences, "bilat. MTP" is one.
    text = re.sub(rf"\b((?i:{last}))\.(?=\s+[A-Z][a-z]{{2,}})", r"\1 . ", text)
    text = text.lower().replace("’", "'")
    text = re.sub(r"\bw/o\b", "without", re.sub(r"\bb/l\b", "bilateral", text))
    text = re.sub(r"\bw/(?=\s)", "with", text)
    text = re.sub(
        r"(\b[cvtls]\d+|stocking|glove|dermatomal|nerve) dist\b\.?", r"\1 distribution", text
    )
    text = re.sub(rf"\bpost (?=(?:r |l |right |left )?(?:{_BODY})\b)", "posterior ", text)
    for long, short in _JOINTS.items():
        text = re.sub(rf"\b{long}\b", short, text)
    text = re.sub(r"\b(lt|pp|pin|touch|vib|temp|jps|sens\.?) red\.", r"\1 reduced", text)
    text = re.sub(r"\b(mtp|mcp|pip|dip|ip)j(s?)\b\.?", r"\1 joint\2", text)
    text = re.sub(r"\b(mtp|mcp|pip|dip|ip)'?s\b", r"\1 joints", text)
    text = re.sub(r"\bfingertip(s?)\b", r"finger tip\1", text)
    text = re.sub(r"\b(?:webspace|interspace)(s?)\b", r"web space\1", text)
    text = re.sub(rf"\b({'|'.join(SHORT)})\b\.?", lambda m: SHORT[m[1]], text)
    return re.sub(rf"\b({'|'.join(DOTTED)})\.", lambda m: DOTTED[m[1]], text)


def _left(text: str) -> str:
    """ "Lt hand" and, beside "rt", "lt hand" are the left one; "LT reduced" is light touch."""

    def read(match: re.Match[str]) -> str:
        said = match[0]
        paired = re.search(rf"\b{'R' if said[0] == 'L' else 'r'}{said[1]}\b", text)
        before = re.findall(r"[a-z]+|[^\sa-z]", text[: match.start()].lower())[-1:]
        after = re.findall(r"[a-z0-9]+", text[match.end() :].lower())[:1]
        if said != "Lt" and not paired:
            return said
        if set(after) & _TEST_STANDS_BY or (said != "Lt" and set(before) & _TEST_STANDS_BY):
            return said
        return "left"

    return re.sub(r"\b[Ll][Tt]\b", read, text)
