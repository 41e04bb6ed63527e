"""Whole circuits."""
