"""Members against their loads."""
