"""The ladder panel and its text."""
