"""Adjusting: the curve of carbon monoxide or smoke against oxygen, the margin of the year, the next turn."""
