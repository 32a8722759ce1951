"""The neurological classification of a spinal cord injury, from the bedside record.

Source of the rules: Rupp R et al., International Standards for Neurological
Classification of SCI, revised 2019, Top Spinal Cord Inj Rehabil 2021;27(2):1-22
("the booklet" in this package). Each rule names its paper where it is a later one. A
mark says how far a line may be trusted: [S] stands in an abstract or summary that was
read, [M] is from memory, [C] is constructed from the stated rules.

One law holds for untested points (NT) [C]: a result is valid only if every admissible
value in the place of NT gives the same. So every result is computed as the exact set
of what it could be, by walks along the segments that carry sets of states.

This package knows the record and nothing else: no skin, no ranking, no picture.
"""
