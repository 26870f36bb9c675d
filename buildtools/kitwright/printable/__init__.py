"""The printable: a kit's pages as a PDF, Letter and A4."""

from kitwright.printable.document import printable_pdf
from kitwright.printable.edition import EDITIONS, Edition

__all__ = ["EDITIONS", "Edition", "printable_pdf"]
