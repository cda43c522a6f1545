"""The set of numbered springs judged as one: what each carries, what is doubtful, what passes, and against before."""
