"""Each spring of the nest from the wire up: geometry, stress, fatigue, surge."""
