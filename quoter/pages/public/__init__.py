"""The public price sheet: what it may show, its pages, and the same as data for other sites."""
