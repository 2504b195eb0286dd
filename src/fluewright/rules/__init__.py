"""Dated, cited limits as data, and the rule by which each is decided. No number of a law stands in code."""
