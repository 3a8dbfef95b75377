"""What is left where several outlets are open together."""
