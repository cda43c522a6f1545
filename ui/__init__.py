"""The window: shows what loadbench computes and judges, and turns what the user does into edits of the job."""
