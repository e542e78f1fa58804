"""The walk: state, decide, apply, prompt; pure, with no clock, file or screen."""
