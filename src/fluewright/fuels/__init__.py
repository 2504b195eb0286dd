"""fuels"""
