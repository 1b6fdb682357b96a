"""Starts the window."""

from __future__ import annotations
