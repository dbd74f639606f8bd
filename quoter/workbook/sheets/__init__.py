"""The sheets of a model's workbook, one module a subject; what they show was computed below."""
