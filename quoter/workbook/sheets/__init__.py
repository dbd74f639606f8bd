"""What stands on each sheet of a model's workbook, the plan's and the margin review's."""
