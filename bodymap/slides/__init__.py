"""A case as a deck for teaching: native shapes and text that an office program can edit. No Qt."""
