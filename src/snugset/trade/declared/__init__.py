"""The declarations of the calculators, a module for each corner of the trade."""
