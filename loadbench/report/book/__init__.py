"""The sheets of the workbook, one module each, and the paper they are written on."""
