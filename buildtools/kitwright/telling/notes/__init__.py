"""What is told besides what is wrong: a function for each code, which takes the values of its record."""
