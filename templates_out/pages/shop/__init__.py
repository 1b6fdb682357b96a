"""The shop sheet."""
