"""What can go wrong, told in one sentence: what, where, how to mend it.

Every error that a person can meet is one of these. The command line prints the
sentence and ends with code 2; the window shows it and changes nothing.
"""


class BodymapError(Exception):
    """Base of all errors that carry a sentence for the person using bodymap."""


class AssetError(BodymapError):
    """A figure, map or fact table is wrong: names the file, the map and the place."""


class CaseError(BodymapError):
    """A case file cannot be used: names the file, the place in it and the mend."""


class RequestError(BodymapError):
    """The caller asked for something that does not exist, such as an unknown region."""
