"""Wedges out of offcuts: what fits into a scrap of wood, how it is sawn, and which scraps to take.

Nothing is loaded here: numpy and shapely come with the modules that count and measure.
"""
