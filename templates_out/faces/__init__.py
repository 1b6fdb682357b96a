"""The outer and the inner face as numbers for the full-scale sheets, before any paper."""
