"""Solenoids."""
