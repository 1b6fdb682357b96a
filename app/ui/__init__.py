"""Colours, fonts, small widgets, dialogs and timers that all parts of the window share. It knows no panel."""
