"""Feeds the program odd input for as long as one wants: files, settings, autosaved boats, typed entries, command words."""
