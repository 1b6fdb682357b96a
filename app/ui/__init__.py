"""What every part of the window is made of: colours, letters, small widgets, dialogs, timers. It knows no panel."""
