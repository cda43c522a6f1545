"""What the numbered springs say as a set: the picture, the doubts, the lists to lay out by, the past."""
