"""Practice: a simulated patient with a hidden lesion answers as a student touches the skin.

The student names a lesion, sees the truth, and learns how much each touch was expected
to tell against the best question at that moment.
"""
