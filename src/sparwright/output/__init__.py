"""Writers: pdf, dxf, svg, csv, json, text."""
