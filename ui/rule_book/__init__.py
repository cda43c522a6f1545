"""The rule book: every limit with who set it, changed for the shop or for a job, and what a change does."""
