"""Shared types: what is read, what is tagged, what comes out."""
