"""One module for each command: it calls the parts and prints; imported only when asked for."""
