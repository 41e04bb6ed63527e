"""Requests: shape, type and range, and nothing else.

Field names, units and bounds come from `lastvolt_service.units`; meaning stands beside the field.
"""
