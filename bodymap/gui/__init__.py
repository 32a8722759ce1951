"""The window. One session holds the state; widgets talk to it and never to each other."""
