"""Tussock: will this aeroplane, loaded like this, do this flight from this strip in this air?"""

__version__ = "0.1.0"
