# Generated from openapi.json by sdk/generate: do not edit.
"""The types and methods of all operations, made from the OpenAPI document."""
