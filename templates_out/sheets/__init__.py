"""The pages themselves: template and shop sheet."""
