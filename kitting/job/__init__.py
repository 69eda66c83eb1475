"""The stages of a job: strip, verdicts, sizes, kit, estimate; one module each, pure at the core."""
