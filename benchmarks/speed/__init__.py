"""How long whole tasks take: workbook to workbook, one group, a big order book, growth with size."""
