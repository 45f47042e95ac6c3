"""What every room uses: quantities as text, checks, sources, problems, axes and signs."""
