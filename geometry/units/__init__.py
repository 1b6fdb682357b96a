"""Units: lengths, angles and forces as a person writes them, and the words that differ by country."""
