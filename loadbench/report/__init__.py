"""TOLD: what leaves the program: workbook, tables, the headless JSON, cautions."""
