"""The views of the Followers page: the match of families, the contact, the axle, the plunger."""
