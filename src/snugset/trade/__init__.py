"""The arithmetic of the trade: quantities in, quantities out."""
