"""Fluewright."""
