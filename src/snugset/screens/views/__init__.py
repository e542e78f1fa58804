"""What stands beside the prompt: map, crank, ledger, list; pure, from plan and state to text."""
