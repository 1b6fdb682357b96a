"""The boat, the motor and the holes as frozen values and pure functions; no window, no paper."""
