"""The slip: numbered springs against heights, typed or pasted, with what follows from them."""
