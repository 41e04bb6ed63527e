"""Makes `lastvolt._generated` from the OpenAPI document; no part of the distribution.

``python sdk/generate`` writes it anew.
"""
