"""The rules and their printed values as plain data, and the page made of them."""
