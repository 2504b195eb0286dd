"""The door of the pages: a visit worked in a browser, served from this machine or inside the page's own Python."""
