"""kernel"""
