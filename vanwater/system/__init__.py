"""System."""
