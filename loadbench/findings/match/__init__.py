"""The match: every follower family held against every criterion, with a recommendation."""
