"""Files compiled: steps, places, references."""
