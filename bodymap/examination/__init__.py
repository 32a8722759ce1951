"""The examination at the bedside: what is asked in which order, and what an answer becomes.

An answer goes to two places at once: the record (what was asked and answered) and the
drawing (the skin that the answer stands for).
"""
