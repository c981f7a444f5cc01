"""The rules folder for readers: its conditions in words, looked up by words, or whole as a book."""
