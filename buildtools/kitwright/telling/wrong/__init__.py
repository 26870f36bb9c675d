"""What is wrong and what would be right: a function for each code, which takes the values of its record."""
