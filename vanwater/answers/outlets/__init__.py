"""What each outlet gives: Flow and pressure with one outlet open, and where the pressure goes."""
