"""What is handed over: a report as a document, and what it is written as."""
