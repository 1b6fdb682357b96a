"""The pages themselves, one folder a kind."""
