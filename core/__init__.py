"""The effort arithmetic: facts in, decisions out, and nothing else."""
