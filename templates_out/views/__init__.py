"""The views of the boat, drawn flat."""
