"""What one joint can carry, as plain functions: loads in, use of its strength out."""
