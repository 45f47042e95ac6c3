"""Reports as data: what a person who must answer for the aeroplane reads, section by section; writers set it."""
