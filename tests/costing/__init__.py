"""Parts, options and boats as the roll-up costs them."""
