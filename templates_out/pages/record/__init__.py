"""The record for the next owner: the holes as drilled, plugs, bolts, torque, and what is under the sealant."""
