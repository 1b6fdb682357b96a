"""The card's entries: what each shows, takes and refuses."""
