"""What else the same kit could be: made otherwise, on other paper, in other numbers, otherwise arranged."""
