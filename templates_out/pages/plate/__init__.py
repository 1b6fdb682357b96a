"""The drawings of the backing plates."""
