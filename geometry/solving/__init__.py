"""The boat solved again, with every reading that says the same size in another way: least squares."""
