"""Systems: fuel, and what else an aeroplane carries to keep going."""
