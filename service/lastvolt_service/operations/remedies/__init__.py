"""Remedies for failed checks, each computed by asking again with its change made."""
