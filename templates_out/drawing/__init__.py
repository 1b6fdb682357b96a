"""Lines, text and pages, and their way into a PDF."""
