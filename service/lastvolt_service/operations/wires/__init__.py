"""Wires: their resistance, the drop along them, their heat, their size and their fuse."""
