"""The manual: its pages, their pictures, the window that shows them. Nothing of it is loaded before it is asked for."""
