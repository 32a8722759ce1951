"""The cautions that stand wherever a result is read.

Wording after the usual red-flag advice for the cauda equina and the cord (bedside
practice; timings differ from place to place, so none is given here).
"""

from bodymap.atlas import Atlas
from bodymap.findings.drawing import Drawing
from bodymap.language import later, tr
from bodymap.localise.red_flags import RedFlag, red_flags

CAUTION = later("Supports a trained examiner; does not diagnose and excludes no disease.")
"""One line, small and permanent."""

CAUTION_LONG = later(
    "bodymap supports a trained examiner. It compares drawn skin with published maps, which "
    "differ from each other and from person to person; it does not diagnose, it excludes no "
    "disease, and it does not replace an examination. Decisions belong to licensed practice "
    "and local pathways."
)

URGENT = later(
    "Needs urgent assessment by the local pathway whatever the ranking says: new saddle "
    "numbness, change of bladder, bowel or sexual function, both legs affected, weakness that "
    "progresses, a sensory level, sudden loss on one side of the body or face, fever, cancer "
    "or injury."
)
"""Red flags of altered sensation, for the places that have room for them."""

SADDLE = later(
    "Altered saddle skin may indicate the cauda equina or the conus: a new change needs "
    "emergency assessment by the local pathway, also where the ranking names another site."
)

NUMBERS = later(
    "Support is a probability: how likely each lesion is, among all that bodymap knows and "
    "something else, given what was found altered, normal and left unmarked, and the muscles "
    "and reflexes noted. It is measured on simulated patients and knows nothing else of the "
    "person. Because strips of skin differ between people, sensation alone never lifts one root "
    "much above two thirds.\n\n"
    "Explained is the share of the altered skin that lies in the lesion's territory; involved "
    "the share of the territory that is altered. Both are exact areas and can be checked by eye: "
    "choose a candidate to see them on the skin.\n\n"
    "A bit is how much an answer is expected to tell: one bit halves what is possible. The "
    "questions offered are those with the most bits."
)
"""What stands beside the candidates, explained."""

CONSENT = later(
    "Examining perianal and genital skin: explain why, ask for consent, offer a chaperone, "
    "and note if it was declined."
)
"""Shown where the saddle view opens."""

FLAGS = {
    RedFlag.SADDLE: SADDLE,
    RedFlag.SPHINCTER: later(
        "No deep anal pressure is felt, or there is no voluntary anal contraction: a new loss "
        "may indicate the cauda equina, the conus or the cord and needs emergency assessment by "
        "the local pathway, whatever the ranking says."
    ),
    RedFlag.WEAK_LEGS: later(
        "Both legs are weak: new or growing weakness, above all with altered sensation or a "
        "change of bladder or bowel, may indicate the cord, the cauda equina or the nerves of "
        "both legs and needs emergency assessment by the local pathway."
    ),
    RedFlag.SENSORY_LEVEL: later(
        "Loss with a level on the trunk, or over both thighs, may indicate the spinal cord; the "
        "lesion may lie at or well above the level. New loss, weakness, or a change of bladder or "
        "bowel needs emergency assessment by the local pathway."
    ),
    RedFlag.CROSSED: later(
        "Altered sensation of one side of the face and the other side of the body may indicate "
        "the brainstem: if it came suddenly, follow the local stroke pathway now."
    ),
    RedFlag.HALF_OF_BODY: later(
        "Altered sensation of one half of the body may indicate the brain: if it came suddenly, "
        "follow the local stroke pathway now."
    ),
    RedFlag.MOUTH_AND_HAND: later(
        "Altered sensation of mouth and hand of one side may indicate the brain: if it came "
        "suddenly, follow the local stroke pathway now."
    ),
    RedFlag.BOTH_LEGS: later(
        "Both feet are affected: if the loss has risen over hours to days, or with weakness, "
        "breathlessness or trouble swallowing, it needs emergency assessment by the local pathway."
    ),
}
"""What each pattern may mean and where it belongs; deferring to local pathways."""


def cautions(atlas: Atlas, drawing: Drawing) -> tuple[str, ...]:
    """The cautions that belong to the result of a drawing; the one that matters most first."""
    flags = red_flags(atlas, drawing)
    return (*(tr(FLAGS[flag]) for flag in flags), tr(CAUTION), tr(URGENT))
