"""The years before: old printables of which only the PDF is left, read, dated and written as past kits."""
