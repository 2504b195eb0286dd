"""The door for programs: the use cases of the pages as JSON, described by OpenAPI."""
