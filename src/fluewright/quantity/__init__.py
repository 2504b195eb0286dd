"""quantity"""
