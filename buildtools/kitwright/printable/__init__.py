"""The printable: a kit's pages as a PDF, Letter and A4; and its workbook."""

from kitwright.printable.document import printable_pdf
from kitwright.printable.edition import EDITIONS, Edition
from kitwright.printable.workbook import workbook_pdf

__all__ = ["EDITIONS", "Edition", "printable_pdf", "workbook_pdf"]
