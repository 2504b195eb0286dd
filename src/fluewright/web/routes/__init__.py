"""The pages, one file for what one does on them; each lists its routes as method, path and handler."""
