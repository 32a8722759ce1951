"""What the examiner found: the drawing and the case file.

Findings are values: an operation returns a new drawing and leaves the old one as
it was, so undo keeps old values. This package knows the atlas, not the ranking.
"""
