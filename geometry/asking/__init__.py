"""The next thing to ask or to do on a boat: the order of the questions."""
