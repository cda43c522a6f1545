"""STATED: the job document, its file and its edits. What a person typed is kept as typed."""
