"""What the help says. Examples are the same in every language."""

from bodymap.language import later

TOP = later("""\
Draw altered sensation on a body figure and see which roots, nerves and plexus parts
are consistent with it. Sides are always the patient's.
""")

COMMANDS = (
    ("bodymap", later("open the window")),
    ("bodymap CASE", later("open a case in the window")),
    ("bodymap rank CASE", later("which lesions are consistent with the drawing")),
    ("bodymap draw CASE OUT", later("a picture of the case: svg, png or pdf")),
    ("bodymap slides CASE OUT", later("a deck of teaching slides, its shapes editable: pptx")),
    ("bodymap handout LIMB OUT", later("one page: roots and nerves of an arm or a leg")),
    (
        "bodymap compare A B [C]",
        later("root against nerve: shared skin, and what tells them apart"),
    ),
    ("bodymap classify CASE", later("levels, completeness and scale of a cord injury (ISNCSCI)")),
    ("bodymap visits CASE", later("what changed between two visits of a case")),
    ("bodymap describe CASE", later("the drawing in the words of a clinician")),
    ("bodymap dictate PHRASE", later("what a dictated finding means on the skin, or draw it")),
    ("bodymap note CASE", later("the chart note: text, Markdown or PDF, full or short")),
    (
        "bodymap regions [WORDS ...]",
        later("the named skin regions, with their segments and nerves"),
    ),
    ("bodymap signs [WORDS ...]", later("the muscles and reflexes that can be noted beside it")),
    ("bodymap sample [NAME [OUT]]", later("invented cases to try things with")),
    ("bodymap patient [OUT]", later("a simulated patient with a hidden lesion")),
    (
        "bodymap calibrate FOLDER",
        later("how far the ranking can be trusted, measured on thousands"),
    ),
)
"""How each command is called, and what it does."""

TOP_EXAMPLES = """\
  bodymap sample carpal-tunnel case.json
  bodymap rank case.json
  bodymap case.json
"""

TOP_NOTE = later("""\
'bodymap rank --help' tells more of a command. A case whose file is called 'rank'
opens with 'bodymap ./rank'. A fault is told in one sentence and ends with code 2.

Supports a trained examiner; does not diagnose and excludes no disease.
""")

RANK = later("""\
Order roots, nerves, plexus parts and the patterns of cord, brain and neuropathy by
how well they explain the findings. Support is a probability among all of them and
"something else"; explained is the share of the drawing that lies in a territory,
involved the share of the territory that is drawn. Reasons, what tells the leading
candidates apart, and what to test next follow.
""")

RANK_EXAMPLES = """\
  bodymap rank case.json
  bodymap rank case.json --modality pinprick
  bodymap rank case.json --sign triceps:right=weak --sign ankle-reflex:left=normal
  bodymap rank case.json --format json > ranking.json
"""

RANK_NOTE = later("""\
The verdict is one of ranked, insufficient (too little is drawn), contradictory (the
same skin altered and normal in one modality) and no-single-explanation.
""")

DRAW = later("""\
Write a picture of the case, with legend, sides and caution. The ending of OUT says
which kind: .svg, .png or .pdf; a single - writes SVG to the standard output.
""")

DRAW_EXAMPLES = """\
  bodymap draw case.json case.svg
  bodymap draw case.json case.png --maps dermatomes --height 1600
  bodymap draw case.json case.pdf --candidate root-c6:right
  bodymap draw case.json case.svg --maps nerves,dermatomes --view front
"""

DRAW_NOTE = later("""\
With --candidate the picture shows what one lesion site explains, leaves unexplained
and would have taken as well; 'bodymap rank CASE --format json' gives the ids.
""")

VISITS = later("""\
Lay two visits of a case over each other: skin that is newly altered, no longer altered
and altered as before, in each modality, in cm² and percent of body surface; key points,
ladders, muscles and levels that changed. Only what was examined at both visits is
compared; what was not examined again is said to be so, and is not gone.
""")

VISITS_EXAMPLES = """\
  bodymap visits case.json
  bodymap visits case.json --between 2026-03-02 2026-11-25
  bodymap visits case.json --picture change.png --modality pinprick
  bodymap visits case.json --format json
"""

VISITS_NOTE = later("""\
The top of a case file is the latest visit, with its 'date'; earlier ones stand under
'visits' in the same form. The window begins new visits (Ctrl+Shift+V).
""")

REGIONS = later("""\
List the named skin regions of a case file: id, words, view, and the segments and
nerve branches that supply them (signature supply first). Words narrow the list: they
are looked for in ids, descriptions and nerves; C6 means the segment.
""")

REGIONS_EXAMPLES = """\
  bodymap regions
  bodymap regions thumb
  bodymap regions C6 back
  bodymap regions median --format json
"""

SAMPLE = later("""\
Without NAME, list the invented cases that come with bodymap and what each shows.
With NAME, print where its file lies; with OUT, copy it there.
""")

SAMPLE_EXAMPLES = """\
  bodymap sample
  bodymap sample carpal-tunnel case.json
"""

SIGNS = later("""\
List the muscles and reflexes that can be noted beside the sensory findings, with
their movement or test, roots and nerves. Words narrow the list; C7 means the root.
""")

SIGNS_EXAMPLES = """\
  bodymap signs
  bodymap signs C7
  bodymap signs reflex
  bodymap rank case.json --sign triceps:right=weak
"""

PATIENT = later("""\
Write the case of a simulated patient: a hidden lesion, one person's borders, an
examination that misses spots and is sometimes wrong. The same seed and lesion give
the same patient. Invented from end to end; for practice and for checking the ranking.
""")

PATIENT_EXAMPLES = """\
  bodymap patient case.json --seed 7
  bodymap patient --lesion median-wrist:right --seed 3 --reveal
  bodymap patient two.json --lesion ulnar-elbow:left --lesion common-fibular-neck:right
"""

CALIBRATE = later("""\
Rank thousands of simulated patients and write what was found into FOLDER: how often
the leading answer is right against the support it was given, first places by kind of
lesion, what further questions gain, and the commonest mix-ups. Takes minutes; the
same seed gives the same numbers.
""")

CALIBRATE_EXAMPLES = """\
  bodymap calibrate docs
  bodymap calibrate /tmp --patients 200 --seed 3
"""

COMPARE = later("""\
Hold two or three lesions against each other: skin that they share, skin of each alone,
and the spots, muscles and reflexes that tell them apart. Without names, list the
classic confusions. The right side is taken unless a side is named. --slides writes a deck
of the comparison: its figure, each lesion by itself, and what tells them apart.
""")

COMPARE_EXAMPLES = """\
  bodymap compare
  bodymap compare root-c6 median-wrist
  bodymap compare root-c8 ulnar-elbow lower-trunk --picture c8.png
  bodymap compare root-c6 median-wrist --slides thumb.pptx
  bodymap compare root-l5:left common-fibular-neck:left --format json
"""

SLIDES = later("""\
Write a deck of teaching slides: the findings, the question, roots and nerves of that
part of the body, the leading candidates step by step, what to test next, cautions and
sources; with --compare, lesions held against each other as well. Figures are native
shapes with alt text and can be edited; each slide has notes for the speaker.
""")

SLIDES_EXAMPLES = """\
  bodymap slides samples/carpal-tunnel.json hand.pptx
  bodymap slides case.json evening.pptx --dark
  bodymap slides case.json thumb.pptx --compare root-c6 --compare median-wrist
"""

HANDOUT = later("""\
Write one page for students: the dermatomes and the skin nerves of an arm or a leg side
by side, and how the classic confusions are told apart.
""")

HANDOUT_EXAMPLES = """\
  bodymap handout arm arm.pdf
  bodymap handout leg leg.png
"""

CLASSIFY = later("""\
Classify the bedside record of a case by ISNCSCI (revised 2019): levels, sums, sacral
sparing, impairment scale, partial preservation. What untested points leave open is ND,
with what it could be and which points bear on it; * rests on a starred score.
""")

CLASSIFY_EXAMPLES = """\
  bodymap classify case.json
  bodymap classify case.json --format json
"""

DESCRIBE = later("""\
Say what is drawn as a clinician would dictate it: by modality and change, over named
skin, with its side. Skin that a finding covers only in part is said as a part.
""")

DESCRIBE_EXAMPLES = """\
  bodymap describe samples/carpal-tunnel.json
"""

DICTATE = later("""\
Read a finding in ordinary clinical English ("LT and PP decreased R digits 4-5") and say
what was understood and which words were not. With --out the case that results is
written; it starts from --case, or empty. A side that was not said is never guessed.
""")

DICTATE_EXAMPLES = """\
  bodymap dictate "numb outer three toes and sole, left"
  bodymap dictate "reduced pinprick over the right thumb" --out case.json
  bodymap dictate "tingling sole" --side left --case case.json --out case.json
"""

NOTE = later("""\
Write the chart note of a case in the order of the trade: method, small and large fibre,
what was not tested, distribution, levels, what it is consistent with, red flags, limits,
what to test next. Nothing appears that was not examined. A PDF shows the findings on the
figure as well and needs --out.
""")

NOTE_EXAMPLES = """\
  bodymap note case.json
  bodymap note case.json --short
  bodymap note case.json --format md --out note.md
  bodymap note case.json --out note.pdf
"""

NOTE_NOTE = later("""\
The date is the one the case holds; without it the note says that none is recorded.
""")
