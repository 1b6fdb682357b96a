"""The findings panel and its text."""
