"""Sources, materials, stock, category rules, section tables: TOML and CSV files with one loader."""
