"""The one family of errors whose message is written for the owner of the boat."""

from __future__ import annotations


class OwnerError(Exception):
    """Something the owner can put right; the message is one plain sentence: what is wrong and what to do."""
