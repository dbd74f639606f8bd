"""A local server that shows the price sheet while its catalogue is edited, and what is wrong."""
