"""What explains the drawing: candidates, their order, and what each leaves over.

This first form compares areas only. The statistical engine (likelihood over
tested and untested skin, priors, calibrated support) takes its place here.
"""
