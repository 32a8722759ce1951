"""bodymap: altered sensation drawn on the skin, and what explains it."""

__version__ = "0.1.0"
