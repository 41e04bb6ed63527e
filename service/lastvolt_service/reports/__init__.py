"""Answers for people: in words that can be posted, and as pictures. Knows nothing of HTTP."""
