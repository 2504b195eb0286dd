"""Pure formulas of combustion: no files, no dates, no units but SI, no third-party import.

Numbers pass as float, numpy array or `dual.Dual` through the same text.
"""
