"""What is made of a record: the customer's page, PDF, workbook, data, letter and order, and the
yard's own workbook.

What a customer gets can reach no more than `shown`, and `guard` looks through all of it.
"""
