"""What the skin is: figure, three maps, one partition, nerve tree and plexus.

This package reads the assets and knows nothing of findings or ranking. Callers
use ``load_atlas`` and the ``Atlas`` it returns.
"""

from bodymap.atlas.atlas import Atlas, load_atlas

__all__ = ["Atlas", "load_atlas"]
