"""Questions asked of a finished costing: what moves a cost, how sure it is, when things pay."""
