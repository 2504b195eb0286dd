"""The use cases of one visit; every door calls these and nothing deeper."""
