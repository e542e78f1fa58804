"""Engine, procedure, spec and answers files: located tree, typed readers, frozen values."""
