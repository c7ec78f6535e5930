"""The sums: plain functions on floats and arrays. They know nothing of documents, text or pydantic."""
