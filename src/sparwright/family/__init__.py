"""The family file: schema, reader, writer that keeps comments, models resolved to SI."""
