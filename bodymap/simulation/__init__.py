"""Simulated patients: a hidden lesion, an examination with its errors, what was found.

The simulator is not the scoring model run backwards. It takes its borders from the
drawn maps and from persons who differ, and its errors from how often two examiners
disagree; it never reads the chances that the ranking uses.
"""
